using System.Globalization;
using System.Text.RegularExpressions;
using PostPipeline.Timecodes.Conforming;
using PostPipeline.Timecodes.Inventories;
using Wire = PostPipeline.Contracts.Timecodes.V1;

namespace PostPipeline.Timecodes.Service.Conforming;

/// <summary>Maps answers of a conform to the wire.</summary>
internal static partial class ConformMapping
{
    public static Wire.ConformClass ToWire(ConformClass value) => value switch
    {
        ConformClass.Matched => Wire.ConformClass.Matched,
        ConformClass.ShortHandles => Wire.ConformClass.ShortHandles,
        ConformClass.SpeedToCheck => Wire.ConformClass.SpeedToCheck,
        ConformClass.SeveralCandidates => Wire.ConformClass.SeveralCandidates,
        ConformClass.None => Wire.ConformClass.None,
        ConformClass.RateConflict => Wire.ConformClass.RateConflict,
        ConformClass.DropFlagConflict => Wire.ConformClass.DropFlagConflict,
        ConformClass.OutsideFile => Wire.ConformClass.OutsideFile,
        ConformClass.ChunkMissing => Wire.ConformClass.ChunkMissing,
        ConformClass.NotSought => Wire.ConformClass.NotSought,
        _ => throw new ArgumentOutOfRangeException(nameof(value), value, "The class is not defined."),
    };

    public static Wire.CutChange ToWire(CutChange value) => value switch
    {
        CutChange.Unchanged => Wire.CutChange.Unchanged,
        CutChange.Moved => Wire.CutChange.Moved,
        CutChange.Trimmed => Wire.CutChange.Trimmed,
        CutChange.Retimed => Wire.CutChange.Retimed,
        CutChange.Added => Wire.CutChange.Added,
        CutChange.Removed => Wire.CutChange.Removed,
        _ => throw new ArgumentOutOfRangeException(nameof(value), value, "The change is not defined."),
    };

    public static Wire.EventRow ToWire(in EventMatch match, Cut cut, Inventory inventory)
    {
        CutEvent item = cut.Events[match.Event];
        Wire.EventRow row = new()
        {
            Event = match.Event,
            Number = item.Number,
            Line = item.Line,
            Reel = item.Reel,
            ClipName = item.ClipName,
            RecordIn = Label(item.RecordIn, cut.RecordFormat),
            SourceIn = Label(item.SourceIn, item.SourceFormat),
            SourceFrames = item.SourceFrames,
            Class = ToWire(match.Class),
            Rung = (int)match.Rung,
            Candidates = match.Candidates,
            FirstFrame = match.Need.First,
            Frames = match.Need.Frames,
            HandleBefore = match.HandleBefore,
            HandleBehind = match.HandleBehind,
            NeedsPerson = match.NeedsPerson,
            NextStep = ConformAdvice.NextStep(match),
        };
        if (match.Row >= 0)
        {
            row.FoundClip = inventory.NameOf(match.Row);
            row.FoundReel = inventory[match.Row].Reel;
        }

        foreach (ConformFindings finding in Enum.GetValues<ConformFindings>())
        {
            if (finding != ConformFindings.None && (match.Findings & finding) != 0)
            {
                row.Findings.Add(Kebab(finding.ToString()));
            }
        }

        return row;
    }

    public static Wire.PullTotals ToWire(PullTotals totals) => new()
    {
        Files = totals.Files,
        Frames = totals.Frames,
        Bytes = totals.Bytes,
        FilesOfUnknownSize = totals.FilesOfUnknownSize,
    };

    public static Wire.PullRow ToWire(in PullRange range, Inventory inventory)
    {
        Clip clip = inventory[range.Row];
        Wire.PullRow row = new()
        {
            Medium = clip.Medium,
            Name = clip.Name,
            Reel = clip.Reel,
            Start = clip.Start is { } start ? Label(start + range.Frames.First, clip.Format) : string.Empty,
            End = clip.Start is { } same ? Label(same + range.Frames.End, clip.Format) : string.Empty,
            FirstFrame = range.Frames.First,
            Frames = range.Frames.Frames,
            Rate = clip.Format.Rate.ToString(),
            WholeFile = range.IsWholeFile,
            Events = range.Events,
        };
        if (range.Bytes is { } bytes)
        {
            row.Bytes = bytes;
        }

        return row;
    }

    public static Wire.ChangeRow ToWire(in ChangedEvent changed, CutDifference difference)
    {
        CutEvent? before = changed.OldEvent >= 0 ? difference.Old.Events[changed.OldEvent] : null;
        CutEvent? now = changed.NewEvent >= 0 ? difference.New.Events[changed.NewEvent] : null;
        CutEvent shown = now ?? before!;
        return new()
        {
            Change = ToWire(changed.Change),
            OldNumber = before?.Number ?? string.Empty,
            NewNumber = now?.Number ?? string.Empty,
            Clip = shown.ClipName.Length > 0 ? shown.ClipName : shown.Reel,
            RecordIn = Label(shown.RecordIn, (now is null ? difference.Old : difference.New).RecordFormat),
            RecordShift = changed.RecordShift,
            KeepsOrder = changed.KeepsOrder,
            HeadFrames = changed.HeadFrames,
            TailFrames = changed.TailFrames,
            TransitionChanged = changed.TransitionChanged,
            FramesToRender = changed.FramesToRender,
        };
    }

    /// <summary>NameElsewhere becomes name-elsewhere.</summary>
    public static string Kebab(string name) => Capital().Replace(name, "-$0").TrimStart('-').ToLower(CultureInfo.InvariantCulture);

    private static string Label(long frame, TimecodeFormat format) => Timecode.FromFrames(frame, format).ToString();

    [GeneratedRegex("[A-Z]")]
    private static partial Regex Capital();
}
