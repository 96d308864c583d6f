using PostPipeline.Quantities;
using PostPipeline.Timecodes.EditLists;

namespace PostPipeline.Timecodes.Conforming;

/// <summary>The labels of one event as frame indexes.</summary>
internal readonly record struct CountedLabels(
    TimecodeFormat SourceFormat, TimecodeFormat RecordFormat, long SourceIn, long SourceOut, long RecordIn, long RecordOut, long? Entry);

/// <summary>Counts labels at one rate and collects what does not exist there.</summary>
internal sealed class LabelCounter(FrameRate rate, int mostProblems)
{
    private readonly TimecodeFormat? drop = TimecodeFormat.AllowsDropFrame(rate) ? TimecodeFormat.From(rate, dropFrame: true) : null;
    private readonly List<EditListProblem> problems = [];

    public TimecodeFormat NonDrop { get; } = TimecodeFormat.From(rate);

    public IReadOnlyList<EditListProblem> Problems => problems;

    public int ProblemsLeftOff { get; private set; }

    public bool TryCount(EditEvent item, out CountedLabels labels)
    {
        // A semicolon anywhere in the line says that its colons mean non-drop; else the mode statement decides for all.
        bool marked = item.SourceIn.Semicolon || item.SourceOut.Semicolon || item.RecordIn.Semicolon || item.RecordOut.Semicolon;
        bool stated = item.Mode == FrameCodeMode.Drop && !marked;
        bool sourceDrop = stated || item.SourceIn.Semicolon || item.SourceOut.Semicolon;
        bool recordDrop = stated || item.RecordIn.Semicolon || item.RecordOut.Semicolon;
        labels = default;
        if ((sourceDrop || recordDrop) && drop is null)
        {
            Add(item.Line, $"the line counts drop-frame, which does not exist at {rate} frames per second; it exists at 30000/1001, 60000/1001 and 120000/1001 only");
            return false;
        }

        TimecodeFormat source = sourceDrop ? drop! : NonDrop;
        TimecodeFormat record = recordDrop ? drop! : NonDrop;
        bool good = TryIndex(item.Line, "source in", item.SourceIn, source, out long sourceIn)
            & TryIndex(item.Line, "source out", item.SourceOut, source, out long sourceOut)
            & TryIndex(item.Line, "record in", item.RecordIn, record, out long recordIn)
            & TryIndex(item.Line, "record out", item.RecordOut, record, out long recordOut);
        long? entry = null;
        if (item.Motions.Length > 0 && item.Motions[0].Entry is { } label)
        {
            good &= TryIndex(item.Line, "motion entry", label, source, out long index);
            entry = index;
        }

        labels = new(source, record, sourceIn, sourceOut, recordIn, recordOut, entry);
        return good;
    }

    private bool TryIndex(int line, string what, EditLabel label, TimecodeFormat format, out long index)
    {
        LabelFault fault = format.TryGetFrameIndex(new(label.Hours, label.Minutes, label.Seconds, label.Frames), DroppedLabels.Refuse, out index);
        if (fault == LabelFault.None)
        {
            return true;
        }

        string reason = fault == LabelFault.Frames
            ? $"frame number {label.Frames} needs a rate of at least {label.Frames + 1} frames per second; the rate given is {format}"
            : new LabelError(fault, 0).Describe(label.ToString(), format);
        Add(line, $"{what} {label}: {reason}");
        return false;
    }

    private void Add(int line, string message)
    {
        if (problems.Count < mostProblems)
        {
            problems.Add(new(line, 1, true, message));
        }
        else
        {
            ProblemsLeftOff++;
        }
    }
}
