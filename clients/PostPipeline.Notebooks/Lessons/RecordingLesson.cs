using PostPipeline.Client;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Notebooks.Charts;
using PostPipeline.Notebooks.Rendering;

namespace PostPipeline.Notebooks.Lessons;

/// <summary>One mode on one card: sustained or burst, how long, and why. The numbers come from the footage service.</summary>
public sealed class RecordingLesson
{
    // Uncompressed codings that people state ratios against.
    private static readonly string[] Bases = ["raw-12", "raw-16", "uncompressed-422-10", "uncompressed-444-12"];

    private readonly RecordingMode mode;
    private readonly RecordingMedia media;

    private RecordingLesson(RecordingMode mode, RecordingMedia media, RateEstimate rate, RecordingAssessment assessment) =>
        (this.mode, this.media, Rate, Assessment) = (mode, media, rate, assessment);

    /// <summary>What the mode makes.</summary>
    public RateEstimate Rate { get; }

    /// <summary>How it can be recorded.</summary>
    public RecordingAssessment Assessment { get; }

    /// <summary>Asks the footage service.</summary>
    /// <param name="mode">The mode.</param>
    /// <param name="media">The card and the buffer.</param>
    public static async Task<RecordingLesson> AskAsync(RecordingMode mode, RecordingMedia media)
    {
        SuiteClients suite = await Suite.ClientsAsync().ConfigureAwait(false);
        RateEstimate rate = await RateAsync(suite, mode).ConfigureAwait(false);
        return new(mode, media, rate, (await AssessAsync(suite, [(mode, rate)], media).ConfigureAwait(false))[0]);
    }

    /// <summary>The verdict in a sentence.</summary>
    public Markdown Answer => new(Assessment.RecordingClass switch
    {
        RecordingClass.Sustained => $"**Within the ceiling**: {Say.Number(Assessment.NeededBytesPerSecond / 1e6)} MB/s written against {Say.Number(Assessment.CeilingBytesPerSecond / 1e6)} MB/s trusted. The card lasts {Say.Number(Assessment.RecordSeconds / 60)} min recorded, {Say.Number(Assessment.ScreenSeconds / 60)} min on screen. Necessary, not sufficient: only the mode table or a test with a full card shows that it holds.",
        RecordingClass.Burst => $"**A burst of {Say.Number(Assessment.Burst.WindowSeconds)} s** ({Say.Number(Assessment.Burst.ScreenSeconds)} s on screen): {Say.Number(Assessment.NeededBytesPerSecond / 1e6)} MB/s made, {Say.Number(Assessment.CeilingBytesPerSecond / 1e6)} MB/s trusted to be written. Ready again after {Say.Number(Assessment.Burst.ReadyAgainSeconds)} s: {Say.Number(Assessment.Burst.TakesPerHour)} windows an hour.",
        _ => $"**Over the ceiling**: {Say.Number(Assessment.NeededBytesPerSecond / 1e6)} MB/s made, {Say.Number(Assessment.CeilingBytesPerSecond / 1e6)} MB/s trusted to be written, and no buffer. It would take a ratio of {Say.Number(Assessment.NeededRatio)}:1, or at most {Assessment.SustainableFramesPerSecond} frames a second.",
    });

    /// <summary>The burst window, or the rates where there is none.</summary>
    public Figure Window => Assessment.Burst is { WindowSeconds: > 0 } burst
        ? Chart.Burst("The window around the press", new(burst.WindowSeconds, media.TriggerPosition, Assessment.NeededBytesPerSecond / 1e6, Assessment.CeilingBytesPerSecond / 1e6, burst.PartBytes / 1e9, media.Drains == "while recording"), "trigger")
        : Rates;

    /// <summary>What is made against what can be written.</summary>
    public Figure Rates => Chart.Bars(
        "What is made, against what the card is trusted to take",
        new("Rate", "MB/s"),
        [new("the mode makes", "rate", Assessment.NeededBytesPerSecond / 1e6)],
        [new(Assessment.CeilingBytesPerSecond / 1e6, $"write ceiling {Say.Number(Assessment.CeilingBytesPerSecond / 1e6)} MB/s")]);

    /// <summary>The formula with today's numbers.</summary>
    public Rendering.Derivation Why => Wire.Tree(Assessment.Derivation);

    /// <summary>The same rate as a ratio against several bases: the bits a pixel do not move, the ratio does.</summary>
    public async Task<NumberTable> RatiosAsync()
    {
        SuiteClients suite = await Suite.ClientsAsync().ConfigureAwait(false);
        EstimateRatesRequest request = new();
        request.Items.AddRange(Bases.Select(b => new RateItem { Label = b, Coding = new() { CatalogueName = b }, Raster = mode.Wire, SensorRate = Wire.Rate(mode.SensorRate) }));
        EstimateRatesResponse answer = await suite.Footage.EstimateRatesAsync(request, cancellationToken: Output.Stop).ResponseAsync.ConfigureAwait(false);
        return new(
            $"One rate, {Say.Number(Rate.BitsPerPixel)} bits a pixel: which ratio is it?",
            ["Against", "Bits a pixel of that base", "Ratio"],
            [.. answer.Results.Select(r => (IReadOnlyList<object?>)[r.Estimate.RatioBase, r.Estimate.BaseBitsPerPixel, r.Estimate.BaseBitsPerPixel / Rate.BitsPerPixel])]);
    }

    /// <summary>Card minutes and screen minutes over the sensor rate: one falls, the other stays.</summary>
    /// <param name="rates">Sensor rates, frames a second.</param>
    public async Task<Figure> LifeAsync(IReadOnlyList<double> rates)
    {
        SuiteClients suite = await Suite.ClientsAsync().ConfigureAwait(false);
        RecordingAssessment[] life = await AssessAsync(suite, [.. rates.Select(rate => (mode with { SensorRate = rate }, Rate))], media with { BufferGigabytes = 0 }).ConfigureAwait(false);
        return Chart.Band(
            "Rate up: the card lasts less, its screen time stays",
            new("Sensor rate", "frames/s"),
            new("What a card holds", "min"),
            [
                BandSeries.Line("recorded", rates.Select((rate, i) => (rate, life[i].RecordSeconds / 60))),
                BandSeries.Line("on screen", rates.Select((rate, i) => (rate, life[i].ScreenSeconds / 60))),
            ],
            marks: [new(mode.SensorRate, "this mode")]);
    }

    /// <summary>Window length over the trigger position.</summary>
    public async Task<Figure> TriggerAsync()
    {
        SuiteClients suite = await Suite.ClientsAsync().ConfigureAwait(false);
        double[] positions = [.. Enumerable.Range(0, 11).Select(i => i / 10.0)];
        List<(double, double)> points = [];
        foreach (double position in positions)
        {
            RecordingAssessment at = (await AssessAsync(suite, [(mode, Rate)], media with { TriggerPosition = position }).ConfigureAwait(false))[0];
            points.Add((position, at.Burst?.WindowSeconds ?? 0));
        }

        return Chart.Band("The earlier the window begins, the shorter it is", new("Trigger position", "share of the window before the press"), new("Window", "s"), [BandSeries.Line("window", points)], marks: [new(media.TriggerPosition, "this setting")]);
    }

    private static async Task<RateEstimate> RateAsync(SuiteClients suite, RecordingMode mode)
    {
        EstimateRatesResponse answer = await suite.Footage.EstimateRatesAsync(
            new()
            {
                Items =
                {
                    new RateItem
                    {
                        Label = mode.Raster,
                        Coding = new() { Raw = new() { BitDepth = mode.BitDepth, CompressionRatio = Wire.Thousandths(mode.Compression) } },
                        Raster = mode.Wire,
                        SensorRate = Wire.Rate(mode.SensorRate),
                        ProjectRate = Wire.Rate(mode.ProjectRate),
                    },
                },
            },
            cancellationToken: Output.Stop).ResponseAsync.ConfigureAwait(false);
        return answer.Results[0].Estimate ?? throw new InvalidOperationException($"{answer.Results[0].Error.Field}: {answer.Results[0].Error.Description}");
    }

    private static async Task<RecordingAssessment[]> AssessAsync(SuiteClients suite, IReadOnlyList<(RecordingMode Mode, RateEstimate Rate)> modes, RecordingMedia media)
    {
        AssessRecordingsRequest request = new() { Explain = true };
        foreach ((RecordingMode mode, RateEstimate rate) in modes)
        {
            RecordingItem item = new()
            {
                Label = mode.Raster,
                BytesPerFrame = rate.BytesPerFrame,
                SensorRate = Wire.Rate(mode.SensorRate),
                ProjectRate = Wire.Rate(mode.ProjectRate),
                CompressionRatio = Wire.Thousandths(mode.Compression),
                Raster = mode.Wire,
                Medium = new() { CapacityBytes = (long)(media.CardGigabytes * 1e9), RatedBytesPerSecond = Wire.Whole((long)(media.RatedMegabytesPerSecond * 1e6)), Derating = Wire.Thousandths(media.Trust) },
            };
            if (media.BufferGigabytes > 0)
            {
                item.Buffer = new()
                {
                    CapacityBytes = (long)(media.BufferGigabytes * 1e9),
                    Partitions = 1,
                    ResetSeconds = media.ResetSeconds,
                    TriggerPosition = Wire.Thousandths(media.TriggerPosition),
                    Drain = media.Drains switch { "while recording" => DrainBehaviour.WhileRecording, "only after" => DrainBehaviour.AfterCapture, _ => DrainBehaviour.Unknown },
                };
            }

            request.Items.Add(item);
        }

        AssessRecordingsResponse answer = await suite.Footage.AssessRecordingsAsync(request, cancellationToken: Output.Stop).ResponseAsync.ConfigureAwait(false);
        return [.. answer.Results.Select(r => r.Assessment ?? throw new InvalidOperationException($"{r.Error.Field}: {r.Error.Description}"))];
    }
}
