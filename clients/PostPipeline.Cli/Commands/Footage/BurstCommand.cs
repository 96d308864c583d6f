using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Contracts.Types.V1;
using PostPipeline.Studies.Printing;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Footage;

/// <summary><c>burst</c>: whether a mode can be sustained on a medium, and the window where it cannot.</summary>
internal static class BurstCommand
{
    private static readonly Option<string?> Card = Given.Needed("--card", "The card's size, such as 512 GB.", "SIZE").Fills("medium.capacity_bytes");
    private static readonly Option<string?> Write = Given.Needed("--write", "Its rating for writing, such as 450 MB/s.", "RATE").Fills("medium.rated_bytes_per_second");
    private static readonly Option<string?> Trust = Given.Text("--trust", "Part of the rating that is trusted; 0.85 (an invented default) without it.", "PART").Fills("medium.derating");
    private static readonly Option<string?> BufferSize = Given.Text("--buffer", "The buffer's size, such as 96 GB.", "SIZE").Fills("buffer.capacity_bytes");
    private static readonly Option<string?> BufferSeconds = Given.Text("--burst-seconds", "Or the seconds that the manual states for this mode, such as 4.5 s.", "TIME").Fills("buffer.stated_burst_seconds");
    private static readonly Option<string?> BufferAgain = Given.Text("--ready-again", "Or the time that the manual states from a full buffer until ready, such as 95 s.", "TIME").Fills("buffer.stated_ready_again_seconds");
    private static readonly Option<string?> Drain = new Option<string?>("--drains") { Description = "When the buffer drains: from-trigger, after-capture or unknown.", DefaultValueFactory = _ => "unknown" }.Fills("buffer.drain");
    private static readonly Option<string?> Trigger = Given.Text("--trigger", "Place of the trigger in the window: 0 starts at the press, 1 ends there.", "0..1").Fills("buffer.trigger_position");
    private static readonly Option<string?> Reset = Given.Text("--reset", "Time between an empty buffer and ready, such as 5 s.", "TIME").Fills("buffer.reset_seconds");
    private static readonly Option<int> Parts = new Option<int>("--parts") { Description = "Parts that the buffer is divided into.", HelpName = "N" }.Fills("buffer.partitions");
    private static readonly Option<string?> Shown = new("--shown") { Description = "What a mode table or a test with a full card shows: holds, fails or unknown.", DefaultValueFactory = _ => "unknown" };

    private sealed record Window(double Seconds, long Frames, double ScreenSeconds, double SecondsBeforePress, double DrainSeconds, double ReadyAgainSeconds, double TakesPerHour, long BytesAtRisk, long FramesAtRisk);

    private sealed record Row(
        string Coding, string Class, string Sustained, double NeededBytesPerSecond, double CeilingBytesPerSecond, double RecordSeconds, double ScreenSeconds,
        long SustainableFramesPerSecond, double NeededRatio, string RatioBase, string SustainableRaster, string BindingLimit, string NextLimit, Window? Burst, Reason? Derivation);

    public static Command Create()
    {
        Drain.AcceptOnlyFromAmong("from-trigger", "after-capture", "unknown");
        Shown.AcceptOnlyFromAmong("holds", "fails", "unknown");
        return new Command("burst", "Say whether a mode can be sustained on a medium, what could, and the window of a burst where it cannot.")
        {
            ModeOptions.Codings, ModeOptions.Raster, ModeOptions.SensorRate, ModeOptions.ProjectRate, ModeOptions.AudioChannels, ModeOptions.OwnCodings,
            Card, Write, Trust, BufferSize, BufferSeconds, BufferAgain, Drain, Trigger, Reset, Parts, Shown, Given.Explain,
        }.Runs(RunAsync);
    }

    private static async Task<int> RunAsync(Session session)
    {
        EstimateRatesRequest rates = new() { OwnCodings = await session.OwnCodingsAsync(ModeOptions.OwnCodings).ConfigureAwait(false) };
        rates.Items.AddRange(ModeOptions.Items(session));
        FootageService.FootageServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).Footage;
        List<RateEstimate> estimates = [];
        AssessRecordingsRequest request = new() { Explain = session.Line.GetValue(Given.Explain) };
        foreach (RateResult result in (await client.EstimateRatesAsync(rates, cancellationToken: session.Cancellation)).Results)
        {
            Given.Refuse(result.Error, result.Label);
            estimates.Add(result.Estimate);
            request.Items.Add(Item(session, result));
        }

        List<Row> rows = [];
        foreach ((RecordingResult result, RateEstimate estimate) in (await client.AssessRecordingsAsync(request, cancellationToken: session.Cancellation)).Results.Zip(estimates))
        {
            Given.Refuse(result.Error, result.Label);
            rows.Add(ToRow(result.Label, result.Assessment, estimate));
        }

        int exitCode = rows.Any(r => r.Sustained == "fail") ? ExitCode.No : ExitCode.Done;
        return session.Answer("postpipeline.burst/1", rows, console => Print(console, rows), exitCode);
    }

    private static RecordingItem Item(Session session, RateResult rate)
    {
        RecordingItem item = new()
        {
            Label = rate.Label,
            BytesPerFrame = rate.Estimate.BytesPerFrame,
            PeakBytesPerFrame = rate.Estimate.PeakBytesPerFrame,
            SensorRate = session.Frames(ModeOptions.SensorRate),
            ProjectRate = session.Frames(ModeOptions.ProjectRate) ?? session.Frames(ModeOptions.SensorRate),
            AudioBytesPerSecond = rate.Estimate.AudioBytesPerSecond,
            Raster = session.Pixels(ModeOptions.Raster),
            Medium = new() { CapacityBytes = session.Bytes(Card), RatedBytesPerSecond = session.BytesPerSecond(Write), Derating = session.Fraction(Trust) },
            Evidence = session.Line.GetValue(Shown) switch { "holds" => Verdict.Pass, "fails" => Verdict.Fail, _ => Verdict.Unknown },
        };
        if (rate.Estimate.CompressionRatio >= 1)
        {
            item.CompressionRatio = new() { Numerator = (long)Math.Round(rate.Estimate.CompressionRatio * 1_000_000), Denominator = 1_000_000 };
        }

        if (session.Line.GetValue(BufferSize) is not null || session.Line.GetValue(BufferSeconds) is not null || session.Line.GetValue(BufferAgain) is not null)
        {
            item.Buffer = new()
            {
                CapacityBytes = session.Bytes(BufferSize),
                StatedBurstSeconds = session.Seconds(BufferSeconds),
                StatedReadyAgainSeconds = session.Seconds(BufferAgain),
                Partitions = session.Line.GetValue(Parts),
                Drain = session.Line.GetValue(Drain) switch { "from-trigger" => DrainBehaviour.WhileRecording, "after-capture" => DrainBehaviour.AfterCapture, _ => DrainBehaviour.Unknown },
                TriggerPosition = session.Fraction(Trigger),
                ResetSeconds = session.Seconds(Reset),
            };
        }

        return item;
    }

    private static Row ToRow(string label, RecordingAssessment a, RateEstimate estimate) => new(
        label,
        a.RecordingClass switch { RecordingClass.Sustained => "sustained", RecordingClass.Burst => "burst", _ => "over the ceiling" },
        a.Sustained.ToString().ToLowerInvariant(),
        a.NeededBytesPerSecond,
        a.CeilingBytesPerSecond,
        a.RecordSeconds,
        a.ScreenSeconds,
        a.SustainableFramesPerSecond,
        a.NeededRatio,
        estimate.RatioBase,
        a.SustainableRaster is { } raster ? $"{raster.Width}x{raster.Height}" : string.Empty,
        a.BindingLimit,
        a.NextLimit,
        a.Burst is not { } b ? null : new(b.WindowSeconds, b.Frames, b.ScreenSeconds, b.SecondsBeforePress, b.DrainSeconds, b.ReadyAgainSeconds, b.TakesPerHour, b.BytesAtRisk, b.FramesAtRisk),
        Reason.From(a.Derivation));

    private static void Print(IAnsiConsole console, List<Row> rows)
    {
        foreach (Row row in rows)
        {
            Table table = new Table().Border(TableBorder.Simple).AddColumns("what", Markup.Escape(row.Coding));
            table.AddRow("how it records", row.Class);
            table.AddRow("sustained", row.Sustained == "unknown" ? "unknown: within the ceiling, and not shown by a mode table or a test with a full card" : row.Sustained);
            table.AddRow("needs, write", Numbers.Rate(row.NeededBytesPerSecond));
            table.AddRow("write ceiling", Numbers.Rate(row.CeilingBytesPerSecond));
            table.AddRow("card lasts", $"{Numbers.Duration(row.RecordSeconds)} recorded, {Numbers.Duration(row.ScreenSeconds)} on screen");
            table.AddRow("highest whole sensor rate sustained", $"{row.SustainableFramesPerSecond}");
            if (row.NeededRatio > 0)
            {
                table.AddRow("least ratio sustained", $"{row.NeededRatio:0.00}:1 of {row.RatioBase}");
            }

            if (row.SustainableRaster.Length > 0)
            {
                table.AddRow("largest raster sustained", row.SustainableRaster);
            }

            if (row.Burst is { } burst)
            {
                table.AddRow("window", $"{burst.Seconds:0.00} s, {burst.Frames} frames, {Numbers.Duration(burst.ScreenSeconds)} on screen, {burst.SecondsBeforePress:0.00} s of it before the press");
                table.AddRow("ready again", $"{Numbers.Duration(burst.ReadyAgainSeconds)} ({Numbers.Duration(burst.DrainSeconds)} to drain); {Numbers.Three(burst.TakesPerHour)} windows an hour");
                table.AddRow("lost where power fails", $"{Numbers.Size(burst.BytesAtRisk)}, {burst.FramesAtRisk} frames");
            }

            table.AddRow("limit now, and next", $"{row.BindingLimit}; {row.NextLimit}");
            console.Write(table);
            row.Derivation?.Print(console);
        }
    }
}
