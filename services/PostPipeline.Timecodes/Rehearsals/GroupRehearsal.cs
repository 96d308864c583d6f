using PostPipeline.Timecodes.Conforming;
using PostPipeline.Timecodes.Inventories;
using PostPipeline.Timecodes.OffSpeed;

namespace PostPipeline.Timecodes.Rehearsals;

/// <summary>Rehearses the cameras of one group under one combination of behaviours after the other.</summary>
internal sealed class GroupRehearsal
{
    private readonly RehearsalPlan plan;
    private readonly List<int> takes;
    private readonly SyntheticEvent[] events;
    private readonly FindingLedger ledger;
    private readonly Dictionary<int, int> rowOfTake = [];
    private readonly int[] reelKeys;
    private readonly int[] nameKeys;
    private readonly PlannedLabels[] labels;
    private Conformer? conformer;

    public GroupRehearsal(RehearsalPlan plan, List<int> takes, SyntheticEvent[] events, FindingLedger ledger)
    {
        this.plan = plan;
        this.takes = takes;
        this.events = events;
        this.ledger = ledger;
        labels = new PlannedLabels[takes.Count];
        reelKeys = Keys(take => $"{CameraGroups.Folded(CameraGroups.Cut(take.Reel, plan.ReelCharacters))}\n{plan.Cameras[take.Camera].Base}");
        nameKeys = Keys(take => $"{CameraGroups.Folded(take.Clip)}\n{CameraGroups.Folded(CameraGroups.Cut(take.Reel, plan.ReelCharacters))}\n{plan.Cameras[take.Camera].Base}");
        for (int row = 0; row < takes.Count; row++)
        {
            rowOfTake.Add(takes[row], row);
        }
    }

    /// <summary>Gives every take the labels of a combination and builds the inventory that would be found.</summary>
    public void Label(OffSpeedLabelling[] combination)
    {
        InventoryBuilder builder = new();
        for (int row = 0; row < takes.Count; row++)
        {
            RehearsalTake take = plan.Takes[takes[row]];
            RehearsalCamera camera = plan.Cameras[take.Camera];
            labels[row] = new(take, camera, combination[take.Camera]);
            builder.Add(new Clip
            {
                Name = take.Clip,
                Reel = take.Reel,
                Format = camera.Base,
                Start = labels[row].HasLabels ? labels[row].Start : null,
                // Where labels follow the clock, whoever lists the file sees its first and last label, not its frames.
                Frames = labels[row].HasLabels ? labels[row].Span : take.Frames,
                Camera = camera.Name,
                SensorRate = take.SensorRate,
                Trimmable = Trimmability.Yes,
            });
        }

        conformer = new(builder.Build(), new() { HandleFrames = plan.HandleFrames, ReelLengths = plan.ReelCharacters > 0 ? [plan.ReelCharacters] : [] });
    }

    /// <summary>Matches the synthetic cut with the labelled takes.</summary>
    /// <returns>Events with a problem where unknown proxies are bad, and where they are good.</returns>
    public (int Most, int Fewest) Check(bool names, OffSpeedLabelling[] combination, bool sayBehaviours, CancellationToken cancellationToken)
    {
        FindShared(names);
        int most = 0;
        int fewest = 0;
        for (int i = 0; i < events.Length; i++)
        {
            if ((i & 0xFF) == 0)
            {
                cancellationToken.ThrowIfCancellationRequested();
            }

            RehearsalCause? cause = Problem(events[i], names);
            bool breaks = cause is not null;
            if (breaks)
            {
                ledger.Event(events[i].Take, cause!.Value);
            }

            (bool proxyFails, bool proxyUnknown) = CameraChecks.ProxyOf(plan, plan.Takes[events[i].Take]);
            fewest += breaks || proxyFails ? 1 : 0;
            most += breaks || proxyFails || proxyUnknown ? 1 : 0;
        }

        ledger.CloseCombination(camera =>
        {
            List<string> words = [];
            if (sayBehaviours && plan.Cameras[camera].OffSpeedLabelling == OffSpeedLabelling.Unknown)
            {
                words.Add(RehearsalText.Word(combination[camera]));
            }

            if (plan.NamesInList is null && !names)
            {
                words.Add("the list carries no clip names");
            }

            return string.Join(" and ", words);
        });
        return (most, fewest);
    }

    private int[] Keys(Func<RehearsalTake, string> text)
    {
        Dictionary<string, int> ids = new(StringComparer.Ordinal);
        int[] keys = new int[takes.Count];
        for (int row = 0; row < keys.Length; row++)
        {
            string key = text(plan.Takes[takes[row]]);
            if (!ids.TryGetValue(key, out int id))
            {
                ids.Add(key, id = ids.Count);
            }

            keys[row] = id;
        }

        return keys;
    }

    private void FindShared(bool names)
    {
        int[] keys = names ? nameKeys : reelKeys;
        List<SharedLabels.Stretch> stretches = new(takes.Count);
        for (int row = 0; row < takes.Count; row++)
        {
            if (labels[row].HasLabels)
            {
                stretches.Add(new(row, keys[row], labels[row].Format, labels[row].Start, labels[row].Start + labels[row].Span));
            }
        }

        SharedLabels.Find(stretches, (a, b) =>
        {
            RehearsalCause cause = names ? RehearsalCause.ClipNamesRepeat
                : plan.Takes[takes[a]].Reel.Equals(plan.Takes[takes[b]].Reel, StringComparison.OrdinalIgnoreCase) ? RehearsalCause.LabelsOverlap
                : RehearsalCause.ReelNamesMerge;
            ledger.Take(takes[a], cause);
            ledger.Take(takes[b], cause);
        });
    }

    private RehearsalCause? Problem(SyntheticEvent item, bool names)
    {
        RehearsalTake take = plan.Takes[item.Take];
        int row = rowOfTake[item.Take];
        PlannedLabels of = labels[row];
        string reel = CameraGroups.Cut(take.Reel, plan.ReelCharacters);
        long first = of.Offset(item.FirstFrame);
        long sourceFrames = of.Offset(item.FirstFrame + item.Frames) - first;
        long labelIndex = of.HasLabels ? of.Format.Wrap(of.Start + first) : first;

        // The list writes the camera's label; whoever reads the list counts it at the rate of the cut.
        LabelFields fields = of.Format.FieldsOf(labelIndex);
        if (plan.ProjectFormat.TryGetFrameIndex(fields, DroppedLabels.SnapForward, out long asRead) != LabelFault.None)
        {
            return RehearsalCause.RatesDiffer;
        }

        EventMatch match = conformer!.Match(new CutEvent
        {
            ClipName = names ? take.Clip : string.Empty,
            Reel = reel,
            SourceFormat = plan.ProjectFormat,
            SourceIn = asRead,
            SourceFrames = Math.Max(1, sourceFrames),
            RecordFrames = item.Frames,
        });
        bool byClock = of.OffSpeed && of.HasLabels && of.Span != take.Frames;
        return match.Class switch
        {
            ConformClass.RateConflict => RehearsalCause.RatesDiffer,
            ConformClass.DropFlagConflict => RehearsalCause.DropFlagsDiffer,
            ConformClass.SeveralCandidates when match.Rung == MatchRung.FullName => RehearsalCause.ClipNamesRepeat,
            ConformClass.SeveralCandidates when match.Rung == MatchRung.TruncatedReel => RehearsalCause.ReelNamesMerge,
            ConformClass.SeveralCandidates => RehearsalCause.LabelsOverlap,
            _ when !of.HasLabels => RehearsalCause.NoLabels,
            _ when match.HasPictures && match.Row != row => RehearsalCause.WrongClip,
            _ when byClock => RehearsalCause.LabelsDoNotCountFrames,
            _ when match.HasPictures && match.Need.First != item.FirstFrame => RehearsalCause.LabelsDoNotCountFrames,
            _ when match.HasPictures && match.Rung == MatchRung.TruncatedReel => RehearsalCause.ReelNamesCutOff,
            _ when match.HasPictures && (match.Findings & ConformFindings.ToConfirm) != 0 => RehearsalCause.NotFound,
            _ when match.HasPictures => null,
            _ when of.Format != plan.ProjectFormat => of.Format.Rate == plan.ProjectFormat.Rate ? RehearsalCause.DropFlagsDiffer : RehearsalCause.RatesDiffer,
            _ => RehearsalCause.NotFound,
        };
    }
}
