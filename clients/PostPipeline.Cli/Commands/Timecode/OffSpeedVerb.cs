using System.CommandLine;
using System.Globalization;
using PostPipeline.Cli.Commands.Footage;
using PostPipeline.Cli.Frame;
using PostPipeline.Contracts.Timecodes.V1;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Timecode;

/// <summary><c>timecode off-speed</c>: labels and screen time of a clip whose sensor ran faster or slower.</summary>
internal static class OffSpeedVerb
{
    private static readonly Option<string> Sensor = new("--sensor") { Description = "Frames exposed in a second.", Required = true, HelpName = "RATE" };
    private static readonly Option<string?> Playback = new("--playback") { Description = "Frames shown in a second; --rate without it.", HelpName = "RATE" };
    private static readonly Option<string> Start = new("--start") { Description = "The label of the first frame.", Required = true, HelpName = "LABEL" };
    private static readonly Option<string?> Seconds = new("--seconds") { Description = "How long the recording lasts, in seconds.", HelpName = "S" };
    private static readonly Option<long?> Frames = new("--frames") { Description = "How many frames were recorded, instead of --seconds.", HelpName = "N" };

    private static readonly Option<string> Counter = new("--record-run-label")
    {
        Description = "Where the camera's own counter stands, for a camera that may switch to record run.",
        DefaultValueFactory = _ => "00:00:00:00",
        HelpName = "LABEL",
    };

    private static readonly Option<string> Labelling = new("--labelling")
    {
        Description = "What the camera does off speed: per-frame, follows-clock, record-run, none, or unknown (all are shown).",
        DefaultValueFactory = _ => "unknown",
        HelpName = "HOW",
    };

    private static readonly Option<string[]> Later = new("--later")
    {
        Description = "A later clip on the same reel, as its first label and its frames: 10:01:00:00+1440.",
        HelpName = "LABEL+N",
    };

    private sealed record Behaviour(
        string Labelling,
        string? StartLabel,
        string? EndLabel,
        long Labels,
        Exact AheadOfClockSeconds,
        long MostFramesPerLabel,
        long SkippedLabels,
        bool LabelsNameFrames,
        IReadOnlyList<long> OverlapLabels);

    private sealed record Clip(bool OffSpeed, Exact SlowFactor, long Frames, Exact RecordedSeconds, Exact ScreenSeconds, IReadOnlyList<Behaviour> Behaviours);

    public static Command Create()
    {
        Labelling.AcceptOnlyFromAmong("per-frame", "follows-clock", "record-run", "none", "unknown");
        return new Command("off-speed", "Show labels, screen time and overlap of an off-speed clip, for every labelling that is possible.")
        {
            Sensor, FormatOptions.Rate, FormatOptions.Drop, Playback, Start, Seconds, Frames, Labelling, Counter, Later,
        }.Runs(RunAsync);
    }

    private static async Task<int> RunAsync(Session session)
    {
        LabelFormat format = FormatOptions.Format(session);
        OffSpeedQuery query = new()
        {
            SensorRate = FormatOptions.ReadRate(session, Sensor),
            Base = format,
            PlaybackRate = session.Line.GetValue(Playback) is null ? format.Rate : FormatOptions.ReadRate(session, Playback!),
            Labelling = session.Line.GetValue(Labelling) switch
            {
                "per-frame" => OffSpeedLabelling.PerFrame,
                "follows-clock" => OffSpeedLabelling.FollowsClock,
                "record-run" => OffSpeedLabelling.RecordRunForced,
                "none" => OffSpeedLabelling.None,
                _ => OffSpeedLabelling.Unknown,
            },
            StartLabel = session.Line.GetValue(Start),
            RecordRunLabel = session.Line.GetValue(Counter),
            LaterClips = { (session.Line.GetValue(Later) ?? []).Select(LaterClip) },
        };
        switch (session.Line.GetValue(Seconds), session.Line.GetValue(Frames))
        {
            case (string seconds, null):
                query.RecordedSeconds = FormatOptions.Write(FormatOptions.ReadFraction(Seconds.Name, seconds));
                break;
            case (null, long frames):
                query.FrameCount = frames;
                break;
            default:
                throw new InputException(InputProblem.Of("--seconds", string.Empty, "give either --seconds or --frames"));
        }

        TimecodeService.TimecodeServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).Timecode;
        OffSpeedOutcome outcome = (await client.MapOffSpeedAsync(new() { Queries = { query } }, cancellationToken: session.Cancellation)).Outcomes[0];
        Given.Refuse(outcome.Error);
        Clip clip = Read(outcome.Clip);
        return session.Answer("postpipeline.timecode.off_speed/1", clip, console => Print(console, clip));
    }

    private static Clip Read(OffSpeedClip clip) => new(
        clip.OffSpeed,
        Exact.From(clip.SlowFactor),
        clip.FrameCount,
        Exact.From(clip.RecordedSeconds),
        Exact.From(clip.ScreenSeconds),
        [.. clip.Labels.Select(labels => new Behaviour(
            Name(labels.Labelling),
            labels.Span?.StartLabel,
            labels.Span?.EndLabel,
            labels.Span?.FrameCount ?? 0,
            Exact.From(labels.AheadOfClockSeconds),
            labels.MostFramesPerLabel,
            labels.SkippedLabels,
            labels.LabelsNameFrames,
            [.. labels.OverlapLabels]))]);

    private static void Print(IAnsiConsole console, Clip clip)
    {
        console.WriteLine($"{clip.Frames} frames in {clip.RecordedSeconds} s, {clip.ScreenSeconds} s on screen, slow factor {clip.SlowFactor}");
        Table table = new Table().Border(TableBorder.Simple)
            .AddColumns("labelling", "from", "to (exclusive)", "labels", "ahead of the clock, s", "frames a label", "skipped", "shared with later clips");
        foreach (Behaviour b in clip.Behaviours)
        {
            table.AddRow(
                b.Labelling, b.StartLabel ?? "none", b.EndLabel ?? string.Empty, $"{b.Labels}", $"{b.AheadOfClockSeconds}", $"{b.MostFramesPerLabel}", $"{b.SkippedLabels}", string.Join(", ", b.OverlapLabels));
        }

        console.Write(table);
    }

    private static string Name(OffSpeedLabelling labelling) => labelling switch
    {
        OffSpeedLabelling.PerFrame => "per-frame",
        OffSpeedLabelling.FollowsClock => "follows-clock",
        OffSpeedLabelling.RecordRunForced => "record-run",
        OffSpeedLabelling.None => "none",
        _ => "unknown",
    };

    private static LabelSpan LaterClip(string text)
    {
        int plus = text.LastIndexOf('+');
        return plus > 0 && long.TryParse(text.AsSpan(plus + 1), NumberStyles.None, CultureInfo.InvariantCulture, out long frames)
            ? new() { StartLabel = text[..plus], FrameCount = frames }
            : throw new InputException(InputProblem.Of(Later.Name, text, "is no clip; write its first label and its frames, such as 10:01:00:00+1440"));
    }
}
