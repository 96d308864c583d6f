using System.CommandLine;
using PostPipeline.Cli.Commands.Footage;
using PostPipeline.Cli.Frame;
using PostPipeline.Contracts.Timecodes.V1;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Timecode;

/// <summary><c>timecode drift</c>: what follows from a rate, and how its labels leave the clock.</summary>
internal static class DriftVerb
{
    private static readonly Option<long?> Frames = new("--frames")
    {
        Description = "Also say the drift after so many frames from label zero.",
        HelpName = "N",
    };

    private sealed record After(long Frames, Exact ClockSeconds, Exact LabelSeconds, Exact DriftSeconds);

    private sealed record Drift(
        int NominalFramesPerSecond,
        int DroppedLabelsPerMinute,
        long FramesPerHour,
        long FramesPerDay,
        Exact SecondsPerLabelHour,
        Exact DriftSecondsPerLabelHour,
        Exact DriftSecondsPerLabelDay,
        int FramesPerLtcWord,
        int FramesPerSuperFrame,
        After? After);

    public static Command Create() =>
        new Command("drift", "Say how labels leave the clock: seconds an hour and a day, and after a number of frames.")
        {
            FormatOptions.Rate, FormatOptions.Drop, Frames,
        }.Runs(async session =>
        {
            LabelFormat format = FormatOptions.Format(session);
            TimecodeService.TimecodeServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).Timecode;
            FormatOutcome described = (await client.DescribeFormatsAsync(new() { Formats = { format } }, cancellationToken: session.Cancellation)).Outcomes[0];
            Given.Refuse(described.Error);
            FormatDescription d = described.Description;
            After? after = null;
            if (session.Line.GetValue(Frames) is { } frames)
            {
                MeasureDriftResponse measured = await client.MeasureDriftAsync(
                    new() { Queries = { new DriftQuery { Format = format, FrameCount = frames } } }, cancellationToken: session.Cancellation);
                Given.Refuse(measured.Outcomes[0].Error);
                Contracts.Timecodes.V1.Drift drift = measured.Outcomes[0].Drift;
                after = new(frames, Exact.From(drift.ClockSeconds), Exact.From(drift.LabelSeconds), Exact.From(drift.DriftSeconds));
            }

            Drift result = new(
                d.NominalFramesPerSecond,
                d.DroppedLabelsPerMinute,
                d.FramesPerHour,
                d.FramesPerDay,
                Exact.From(d.SecondsPerLabelHour),
                Exact.From(d.DriftSecondsPerLabelHour),
                Exact.From(d.DriftSecondsPerLabelDay),
                d.FramesPerLtcWord,
                d.FramesPerSuperFrame,
                after);
            return session.Answer("postpipeline.timecode.drift/1", result, console => Print(console, result));
        });

    private static void Print(IAnsiConsole console, Drift drift)
    {
        Table table = new Table().Border(TableBorder.Simple).AddColumns("what", "value");
        table.AddRow("labels a second", $"{drift.NominalFramesPerSecond}");
        table.AddRow("labels left out a minute, nine minutes in ten", $"{drift.DroppedLabelsPerMinute}");
        table.AddRow("frames a label hour", $"{drift.FramesPerHour}");
        table.AddRow("frames in 24 label hours", $"{drift.FramesPerDay}");
        table.AddRow("a label hour lasts", $"{drift.SecondsPerLabelHour} s");
        table.AddRow("labels lag the clock in an hour by", $"{drift.DriftSecondsPerLabelHour} s");
        table.AddRow("labels lag the clock in 24 hours by", $"{drift.DriftSecondsPerLabelDay} s");
        table.AddRow("frames a linear-timecode word", drift.FramesPerLtcWord == 0 ? "not carried" : $"{drift.FramesPerLtcWord}");
        table.AddRow("frames a super-frame", drift.FramesPerSuperFrame == 0 ? "none" : $"{drift.FramesPerSuperFrame}");
        if (drift.After is { } after)
        {
            table.AddRow($"after {after.Frames} frames: clock", $"{after.ClockSeconds} s");
            table.AddRow($"after {after.Frames} frames: labels", $"{after.LabelSeconds} s");
            table.AddRow($"after {after.Frames} frames: labels lag by", $"{after.DriftSeconds} s");
        }

        console.Write(table);
    }
}
