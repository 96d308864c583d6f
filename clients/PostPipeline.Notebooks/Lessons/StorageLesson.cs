using PostPipeline.Client;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Notebooks.Charts;

namespace PostPipeline.Notebooks.Lessons;

/// <summary>
/// Peaks of the three pipelines on two tiers for so many recorded hours of the reference clip (4096 × 2160, 12-bit raw at
/// 3:1, 24 frames/s). The occupancy comes from the storage service; shares of the originals are invented.
/// </summary>
public sealed class StorageLesson
{
    // 4,423,680 B a frame × 24 × 3,600: bytes of a recorded hour.
    private const long OriginalBytesPerHour = 382_205_952_000;
    private const long Day = 86_400;

    private StorageLesson(IReadOnlyList<(string Pipeline, double Online, double Nearline)> peaks) => Peaks = peaks;

    /// <summary>Each pipeline's peaks, TB.</summary>
    public IReadOnlyList<(string Pipeline, double Online, double Nearline)> Peaks { get; }

    /// <summary>Asks for the peaks.</summary>
    /// <param name="recordedHours">Recorded hours of all cameras.</param>
    public static async Task<StorageLesson> AskAsync(double recordedHours)
    {
        double originals = recordedHours * OriginalBytesPerHour;
        (string Pipeline, (string Label, string Tier, double Bytes)[] Generations)[] pipelines =
        [
            ("native", [("originals", "online", originals), ("caches, 15 %", "online", originals * 0.15), ("renders", "online", 2e12)]),
            ("transcode", [("originals", "nearline", originals), ("mezzanine, 0.8231 of the originals", "online", originals * 0.8231), ("renders", "online", 2e12)]),
            ("proxy", [("originals", "nearline", originals), ("proxies, 0.04259 of the originals", "online", originals * 0.04259), ("trimmed pull", "online", 0.83e12), ("renders", "online", 4e12)]),
        ];
        SuiteClients suite = await Suite.ClientsAsync().ConfigureAwait(false);
        List<(string, double, double)> peaks = [];
        foreach ((string pipeline, (string Label, string Tier, double Bytes)[] generations) in pipelines)
        {
            PlanOccupancyRequest request = new();
            request.Tiers.AddRange(((string[])["online", "nearline"]).Select(t => new Tier { Label = t }));
            request.Generations.AddRange(generations.Select(g => new Generation { Label = g.Label, Tier = g.Tier, Bytes = checked((long)Math.Round(g.Bytes)), Copies = 1, FromSeconds = 0, CompleteSeconds = 40 * Day, PurgeSeconds = 200 * Day, PurgeTrigger = "acceptance" }));
            PlanOccupancyResponse answer = await suite.Storage.PlanOccupancyAsync(request, cancellationToken: Output.Stop).ResponseAsync.ConfigureAwait(false);
            peaks.Add((pipeline, answer.Tiers[0].PeakBytes / 1e12, answer.Tiers[1].PeakBytes / 1e12));
        }

        return new(peaks);
    }

    /// <summary>The peaks, tier over tier.</summary>
    public Figure Chart => Charts.Chart.Bars(
        "How much storage does each pipeline fill at its peak?",
        new("Peak", "TB"),
        [.. Peaks.SelectMany(p => new BarRow[] { new(p.Pipeline, "online", p.Online), new(p.Pipeline, "nearline", p.Nearline) })]);
}
