using System.Globalization;
using System.Text;
using PostPipeline.Slates.Options;
using PostPipeline.Slates.Planning;

namespace PostPipeline.Slates.Output;

/// <summary>
/// A plan as an iCalendar object (RFC 5545): one all-day event a stage. Lines end in CRLF and are folded at 75 octets (3.1);
/// text is escaped (3.3.11); DTSTAMP comes from the clock that the caller gives (3.8.7.2); DTEND is exclusive (3.6.1).
/// </summary>
public static class SlateCalendarFile
{
    private const int MostOctets = 75;

    /// <summary>Writes the calendar.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="time">The slate's clock.</param>
    /// <param name="clock">The clock of DTSTAMP.</param>
    public static string Write(SlatePlan plan, SlateTime time, TimeProvider clock)
    {
        StringBuilder text = new();
        string stamp = clock.GetUtcNow().ToString("yyyyMMdd'T'HHmmss'Z'", CultureInfo.InvariantCulture);
        Line(text, "BEGIN:VCALENDAR");
        Line(text, "VERSION:2.0");
        Line(text, "PRODID:-//postpipeline//slate//EN");
        for (int p = 0; p < plan.Projects.Count; p++)
        {
            ProjectPlan project = plan.Projects[p];
            for (int s = 0; s < project.Stages.Count; s++)
            {
                StagePlan stage = project.Stages[s];
                string nodes = stage.Nodes > 0 ? $", {stage.Nodes} nodes of {stage.FarmClass}" : string.Empty;
                Line(text, "BEGIN:VEVENT");
                Line(text, $"UID:project-{p + 1}-stage-{s + 1}@slate.postpipeline.invalid");
                Line(text, $"DTSTAMP:{stamp}");
                Line(text, $"DTSTART;VALUE=DATE:{Date(time, stage.Start)}");
                Line(text, $"DTEND;VALUE=DATE:{Date(time, Math.Max(stage.Start, stage.End - 1) + 2)}");
                Line(text, $"SUMMARY:{Escape($"{project.Project}: {stage.Stage}")}");
                Line(text, $"DESCRIPTION:{Escape($"pipeline {project.Pipeline}{nodes}")}");
                Line(text, "TRANSP:TRANSPARENT");
                Line(text, "END:VEVENT");
            }
        }

        Line(text, "END:VCALENDAR");
        return text.ToString();
    }

    /// <summary>Escapes TEXT: backslash, semicolon, comma and line breaks (RFC 5545, 3.3.11).</summary>
    /// <param name="text">Any text.</param>
    public static string Escape(string text) => text
        .Replace("\\", "\\\\", StringComparison.Ordinal)
        .Replace(";", "\\;", StringComparison.Ordinal)
        .Replace(",", "\\,", StringComparison.Ordinal)
        .Replace("\r\n", "\\n", StringComparison.Ordinal)
        .Replace("\n", "\\n", StringComparison.Ordinal);

    /// <summary>Folds a line so that none is longer than 75 octets of UTF-8, never inside a character (RFC 5545, 3.1).</summary>
    /// <param name="line">A content line without its line break.</param>
    public static string Fold(string line)
    {
        StringBuilder folded = new();
        int octets = 0;
        foreach (Rune rune in line.EnumerateRunes())
        {
            if (octets + rune.Utf8SequenceLength > MostOctets)
            {
                folded.Append("\r\n ");
                octets = 1;
            }

            folded.Append(rune.ToString());
            octets += rune.Utf8SequenceLength;
        }

        return folded.ToString();
    }

    private static void Line(StringBuilder text, string line) => text.Append(Fold(line)).Append("\r\n");

    private static string Date(SlateTime time, int slot) => time.Clock.DateOf(slot).ToString("uuuuMMdd", CultureInfo.InvariantCulture);
}
