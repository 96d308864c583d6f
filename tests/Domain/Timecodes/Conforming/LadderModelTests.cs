using CsCheck;
using PostPipeline.Timecodes;
using PostPipeline.Timecodes.Conforming;
using PostPipeline.Timecodes.Inventories;
using Xunit;

namespace PostPipeline.Domain.Tests.Timecodes.Conforming;

/// <summary>
/// The ladder against a slow and obvious model of it: for every event, look at every clip, frame by frame where it
/// matters. Small alphabets and short days make collisions of every kind common.
/// </summary>
public class LadderModelTests
{
    private static readonly int Count = Environment.GetEnvironmentVariable("POSTPIPELINE_LONG") == "1" ? 200_000 : 3_000;

    private static readonly TimecodeFormat[] Formats =
    [
        TimecodeFormat.Fps24, TimecodeFormat.Fps24000Over1001, TimecodeFormat.Fps30000Over1001, TimecodeFormat.Fps30000Over1001Drop,
    ];

    private static readonly string[] Names = ["A_1", "A_2", "B_1", "a_1.mov", "C"];

    private static readonly string[] Reels = ["A1234567", "A12345678", "A12345679", "A1234567890123456", "B1", "B123456789AB", "B123456789ABC"];

    private static readonly string[] Cameras = [string.Empty, "A", "B"];

    private static readonly Gen<Clip> AnyClip =
        Gen.Select(Gen.OneOf(Names), Gen.OneOf(Reels), Gen.OneOf(Formats), Gen.Int[-1, 120], Gen.Int[1, 60], Gen.OneOf(Cameras), Gen.Int[0, 2], Gen.Int[0, 5])
            .Select(t => new Clip
            {
                Name = t.Item1,
                Reel = t.Item2,
                Format = t.Item3,
                Start = t.Item4 < 0 ? null : (t.Item4 + t.Item3.FramesPerDay - 60) % t.Item3.FramesPerDay,
                Frames = t.Item5,
                Camera = t.Item6,
                Date = t.Item7 == 0 ? null : new DateOnly(2031, 5, t.Item7),
                Kind = t.Item8 == 0 ? ClipKind.Mezzanine : ClipKind.Original,
                Trimmable = Trimmability.Yes,
            });

    private static readonly Gen<CutEvent> AnyEvent =
        Gen.Select(Gen.OneOf("A_1", "B_1", "X", string.Empty), Gen.OneOf([.. Reels, "A123456789012345", "B2", string.Empty]), Gen.OneOf(Formats), Gen.Int[0, 120], Gen.Int[1, 20], Gen.Int[0, 2])
            .Select(t => new CutEvent
            {
                ClipName = t.Item1,
                Reel = t.Item2,
                SourceFormat = t.Item3,
                SourceIn = (t.Item4 + t.Item3.FramesPerDay - 60) % t.Item3.FramesPerDay,
                SourceFrames = t.Item5,
                RecordFrames = t.Item5,
                Date = t.Item6 == 0 ? null : new DateOnly(2031, 5, t.Item6),
            });

    [Fact]
    public void Match_AnyInventory_AgreesWithTheModel() =>
        Gen.Select(AnyClip.Array[0, 12], AnyEvent.Array[1, 4]).Sample((clips, events) =>
        {
            InventoryBuilder builder = new();
            foreach (Clip clip in clips)
            {
                builder.Add(clip);
            }

            Conformer conformer = new(builder.Build());
            foreach (CutEvent item in events)
            {
                EventMatch match = conformer.Match(item);
                (MatchRung rung, int[] rows) = Model(clips, item);
                bool agrees = rows.Length switch
                {
                    0 => match.Class == ModelOfMiss(clips, item),
                    1 => match.Class == ConformClass.Matched && match.Rung == rung && match.Row == rows[0]
                        && match.NeedsPerson == (rung is MatchRung.TruncatedReel or MatchRung.CameraOrDate),
                    _ => match.Class == ConformClass.SeveralCandidates && match.Rung == rung && match.Candidates == rows.Length && match.Row == rows.Min(),
                };
                if (!agrees)
                {
                    return false;
                }
            }

            return true;
        }, iter: Count);

    private static (MatchRung Rung, int[] Rows) Model(Clip[] clips, CutEvent item)
    {
        int[] holding = [.. Enumerable.Range(0, clips.Length).Where(i => clips[i].Kind == ClipKind.Original && Holds(clips[i], item))];
        int[] named = [.. holding.Where(i => item.ClipName.Length > 0 && Same(Stem(clips[i].Name), item.ClipName))];
        if (named.Length > 0)
        {
            int[] withReel = [.. named.Where(i => Same(clips[i].Reel, item.Reel))];
            return (MatchRung.FullName, named.Length > 1 && withReel.Length == 1 ? withReel : named);
        }

        int[] reel = [.. holding.Where(i => Same(clips[i].Reel, item.Reel))];
        if (reel.Length > 0)
        {
            return (MatchRung.Reel, reel);
        }

        int[] cutOff = [.. holding.Where(i => new[] { 8, 12, 16, 32 }.Any(n => CutOff(clips[i].Reel, item.Reel, n) || CutOff(item.Reel, clips[i].Reel, n)))];
        if (cutOff.Length > 0)
        {
            return (MatchRung.TruncatedReel, cutOff);
        }

        string start = item.Reel.Length > 0 ? item.Reel : item.ClipName;
        string camera = clips.Select(c => c.Camera).Where(c => c.Length > 0 && start.StartsWith(c, StringComparison.OrdinalIgnoreCase)).MaxBy(c => c.Length) ?? string.Empty;
        if (camera.Length > 0)
        {
            return (MatchRung.CameraOrDate, [.. holding.Where(i => clips[i].Camera == camera && (item.Date is null || clips[i].Date is null || clips[i].Date == item.Date))]);
        }

        return (MatchRung.CameraOrDate, item.Date is null ? [] : [.. holding.Where(i => clips[i].Date == item.Date)]);
    }

    private static ConformClass ModelOfMiss(Clip[] clips, CutEvent item)
    {
        // By name first, the most telling reason; by reel where the name tells nothing.
        Clip[] named = [.. clips.Where(c => c.Kind == ClipKind.Original && item.ClipName.Length > 0 && Same(Stem(c.Name), item.ClipName))];
        ConformClass? byName = Worst(named, item, reelGroup: false);
        if (byName is { } told)
        {
            return told;
        }

        Clip[] reel = [.. clips.Where(c => c.Kind == ClipKind.Original && item.Reel.Length > 0 && Same(c.Reel, item.Reel) && c.Start is not null)];
        return Worst(reel, item, reelGroup: true) ?? ConformClass.None;
    }

    private static ConformClass? Worst(Clip[] clips, CutEvent item, bool reelGroup)
    {
        Clip[] labelled = [.. clips.Where(c => c.Start is not null)];
        if (labelled.Any(c => c.Format.Rate == item.SourceFormat.Rate && c.Format.DropFrame != item.SourceFormat.DropFrame && HoldsLabels(c, item)))
        {
            return ConformClass.DropFlagConflict;
        }

        if (labelled.Any(c => c.Format.Rate != item.SourceFormat.Rate && HoldsLabels(c, item)))
        {
            return ConformClass.RateConflict;
        }

        Clip[] sameFormat = [.. labelled.Where(c => c.Format == item.SourceFormat)];
        if (reelGroup)
        {
            return sameFormat.Length == 1 || sameFormat.Any(c => Meets(c, item)) ? ConformClass.OutsideFile : null;
        }

        return sameFormat.Length > 0 ? ConformClass.OutsideFile
            : labelled.Any(c => c.Format.Rate == item.SourceFormat.Rate) ? ConformClass.DropFlagConflict
            : labelled.Length > 0 ? ConformClass.RateConflict
            : null;
    }

    private static bool Holds(Clip clip, CutEvent item) =>
        clip.Format == item.SourceFormat && clip.Start is not null
        && Enumerable.Range(0, (int)item.SourceFrames).All(i => Has(clip, clip.Format.Wrap(item.SourceIn + i)));

    private static bool Meets(Clip clip, CutEvent item) =>
        Enumerable.Range(0, (int)item.SourceFrames).Any(i => Has(clip, clip.Format.Wrap(item.SourceIn + i)));

    private static bool HoldsLabels(Clip clip, CutEvent item)
    {
        LabelFields first = item.SourceFormat.FieldsOf(item.SourceIn);
        LabelFields last = item.SourceFormat.FieldsOf(item.SourceIn + item.SourceFrames - 1);
        if (clip.Format.TryGetFrameIndex(first, DroppedLabels.SnapForward, out long a) != LabelFault.None
            || clip.Format.TryGetFrameIndex(last, DroppedLabels.SnapForward, out long b) != LabelFault.None)
        {
            return false;
        }

        long frames = clip.Format.Wrap(b - a) + 1;
        return Enumerable.Range(0, (int)Math.Min(frames, 200)).All(i => Has(clip, clip.Format.Wrap(a + i)));
    }

    private static bool Has(Clip clip, long frame) => clip.Format.Wrap(frame - clip.Start!.Value) < clip.Frames;

    private static bool CutOff(string longer, string shorter, int length) =>
        longer.Length > length && shorter.Length == length && Same(longer[..length], shorter);

    private static string Stem(string name) => name.EndsWith(".mov", StringComparison.Ordinal) ? name[..^4] : name;

    private static bool Same(string a, string b) => a.Equals(b, StringComparison.OrdinalIgnoreCase);
}
