using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using PostPipeline.Timecodes.EditLists;
using PostPipeline.Timecodes.Inventories;

namespace PostPipeline.Timecodes.Conforming;

/// <summary>Writes a pull list for those who fetch the files: as CSV, or as edit lists (SMPTE ST 258), one for each rate.</summary>
public static class PullListWriter
{
    /// <summary>One row a range, ordered by medium.</summary>
    /// <param name="list">The pull list.</param>
    public static string ToCsv(PullList list)
    {
        StringBuilder text = new();
        CsvText.Row(text, "medium", "name", "reel", "start", "end", "first_frame", "frames", "rate", "whole_file", "bytes", "events");
        foreach (PullRange range in list.Ranges)
        {
            Clip clip = list.Inventory[range.Row];
            (string start, string end) = Labels(clip, range.Frames);
            CsvText.Row(
                text,
                clip.Medium,
                clip.Name,
                clip.Reel,
                start,
                end,
                Number(range.Frames.First),
                Number(range.Frames.Frames),
                clip.Format.Rate.ToString(),
                range.IsWholeFile ? "yes" : "no",
                range.Bytes is { } bytes ? Number(bytes) : string.Empty,
                Number(range.Events));
        }

        return text.ToString();
    }

    /// <summary>
    /// One edit list for each rate and numbering among the files: the source side is what to pull, the record side
    /// lays the ranges end to end. Files without labels are left out, as an edit list cannot name their frames.
    /// </summary>
    /// <param name="list">The pull list.</param>
    /// <param name="title">The title of the lists.</param>
    public static ImmutableArray<(TimecodeFormat Format, EditList List)> ToEditLists(PullList list, string title)
    {
        Dictionary<TimecodeFormat, List<EditEvent>> lists = [];
        Dictionary<TimecodeFormat, long> recorded = [];
        foreach (PullRange range in list.Ranges)
        {
            Clip clip = list.Inventory[range.Row];
            if (clip.Start is not { } start)
            {
                continue;
            }

            if (!lists.TryGetValue(clip.Format, out List<EditEvent>? events))
            {
                lists.Add(clip.Format, events = []);
            }

            long at = recorded.GetValueOrDefault(clip.Format);
            events.Add(new(
                0,
                $"{events.Count + 1:D3}",
                clip.Reel,
                "V",
                EditTransition.Cut,
                Label(start + range.Frames.First, clip.Format),
                Label(start + range.Frames.End, clip.Format),
                Label(at, clip.Format),
                Label(at + range.Frames.Frames, clip.Format),
                clip.Format.DropFrame ? FrameCodeMode.Drop : FrameCodeMode.NonDrop,
                [],
                [new(CommentKind.FromClipName, true, $"FROM CLIP NAME: {clip.Name}")]));
            recorded[clip.Format] = at + range.Frames.Frames;
        }

        return [.. lists.Select(pair => (pair.Key, new EditList(title, [], [.. pair.Value])))];
    }

    private static (string Start, string End) Labels(Clip clip, SourceSpan span) => clip.Start is { } start
        ? (Timecode.FromFrames(start + span.First, clip.Format).ToString(), Timecode.FromFrames(start + span.End, clip.Format).ToString())
        : (string.Empty, string.Empty);

    private static EditLabel Label(long frame, TimecodeFormat format)
    {
        LabelFields fields = format.FieldsOf(frame);
        return new(fields.Hours, fields.Minutes, fields.Seconds, fields.Frames, format.DropFrame);
    }

    private static string Number(long value) => value.ToString(CultureInfo.InvariantCulture);
}
