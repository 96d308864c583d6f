using System.Security.Cryptography;
using PostPipeline.Client;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Notebooks.Charts;
using PostPipeline.Notebooks.Rendering;

namespace PostPipeline.Notebooks.Lessons;

/// <summary>Links in series, the queue at wrap, and what a check of copies can show. The times come from the offload service.</summary>
/// <param name="bench">The card and the means.</param>
public sealed class OffloadLesson(OffloadBench bench)
{
    private const double WrapSeconds = 18 * 3600;

    /// <summary>What each level of checking can show. Common practice, no source.</summary>
    private static readonly (VerifyLevel Level, string Name, string Shows, string Misses)[] Levels =
    [
        (VerifyLevel.None, "none", "nothing", "everything"),
        (VerifyLevel.Sizes, "sizes", "files that are missing or cut short", "wrong bytes"),
        (VerifyLevel.Destinations, "destinations re-read", "bytes that were written wrong", "a bad first read: both copies hold it, and agree"),
        (VerifyLevel.SourceAndDestinations, "source and destinations re-read", "bytes written wrong, and a first read that the second does not repeat", "a fault that the reader repeats"),
        (VerifyLevel.CameraHashes, "hashes of the camera", "bytes that are not what the camera wrote, however they were read", "a fault from before the camera made its hashes"),
    ];

    /// <summary>Minutes of one card, from the first byte read to the last copy verified.</summary>
    /// <param name="means">The means.</param>
    /// <param name="level">How copies are checked.</param>
    public static async Task<double> CardMinutesAsync(OffloadBench means, VerifyLevel level = VerifyLevel.Destinations)
    {
        DayOffload day = await DayAsync(means with { Cards = 1, Stations = 1 }, level).ConfigureAwait(false);
        return (day.Runs[0].DoneSeconds - day.Runs[0].StartedSeconds) / 60;
    }

    /// <summary>Minutes of one card as it is, with its fastest link doubled, with its slowest destination at 900 MB/s, and then with its reader doubled too.</summary>
    public async Task<IReadOnlyList<(string Case, double Minutes)>> PurchasesAsync()
    {
        (string Name, OffloadBench Means)[] cases =
        [
            ("as it is", bench),
            ("fastest link doubled", Doubled()),
            ("slowest destination replaced (900 MB/s)", Replaced()),
            ("that, and the reader doubled", Replaced() with { Reader = bench.Reader * 2 }),
        ];
        List<(string, double)> minutes = [];
        foreach ((string name, OffloadBench means) in cases)
        {
            minutes.Add((name, await CardMinutesAsync(means).ConfigureAwait(false)));
        }

        return minutes;
    }

    /// <summary>Those minutes as bars.</summary>
    public async Task<Figure> LinksAsync() => Chart.Bars(
        "Which purchase makes a card faster?",
        new("Copy and verify one card", "min"),
        [.. (await PurchasesAsync().ConfigureAwait(false)).Select(c => new BarRow(c.Case, "one card", c.Minutes))]);

    /// <summary>The last cards, one after another.</summary>
    public async Task<NumberTable> QueueAsync()
    {
        DayOffload day = await DayAsync(bench, VerifyLevel.Destinations).ConfigureAwait(false);
        return new(
            "The cards that come in at wrap",
            ["Card", "Station", "Starts after wrap (min)", "Verified after wrap (min)"],
            [.. day.Runs.Select(r => (IReadOnlyList<object?>)[r.Camera, r.Station, (r.StartedSeconds - WrapSeconds) / 60, (r.DoneSeconds - WrapSeconds) / 60])]);
    }

    /// <summary>When the last card is verified, in minutes after wrap.</summary>
    public async Task<double> AfterWrapMinutesAsync() => (await DayAsync(bench, VerifyLevel.Destinations).ConfigureAwait(false)).AfterWrapSeconds / 60;

    /// <summary>The answer for the queue.</summary>
    public async Task<Markdown> QueueAnswerAsync()
    {
        double one = await CardMinutesAsync(bench).ConfigureAwait(false);
        double all = await AfterWrapMinutesAsync().ConfigureAwait(false);
        return new($"One card takes {Say.Number(one)} min. {bench.Cards} cards on {bench.Stations} stations are done **{Say.Number(all)} min** after wrap, not {Say.Number(one * bench.Cards / bench.Stations)}: a card is not shared between stations.");
    }

    /// <summary>What each level shows, misses and costs.</summary>
    public async Task<NumberTable> LevelsAsync()
    {
        List<IReadOnlyList<object?>> rows = [];
        foreach ((VerifyLevel level, string name, string shows, string misses) in Levels)
        {
            rows.Add([name, shows, misses, await CardMinutesAsync(bench, level).ConfigureAwait(false)]);
        }

        return new("What a check can show", ["Level", "Shows", "Cannot show", "One card (min)"], rows);
    }

    /// <summary>One bit of a card is read wrong, and two copies are written from that read: what each level compares, and whether it notices.</summary>
    public static NumberTable BadRead()
    {
        byte[] card = [.. Enumerable.Range(0, 1 << 20).Select(i => (byte)((i * 131L / 7) & 0xFF))];
        string camera = Digest(card);
        byte[] read = [.. card];
        read[card.Length / 2] ^= 1;
        string first = Digest(read);
        string copies = Digest([.. read]);
        string second = Digest(card);
        return new(
            "A bad first read, copied twice",
            ["Compared", "One digest begins", "The other begins", "Equal", "The copies are what the camera wrote"],
            [
                Compared("copies with the first read", first, copies),
                Compared("the two copies with each other", copies, copies),
                Compared("copies with the card read again", second, copies),
                Compared("copies with hashes of the camera", camera, copies),
            ]);
    }

    private static IReadOnlyList<object?> Compared(string what, string one, string other) => [what, one[..8], other[..8], one == other ? "yes" : "no", "no"];

    private static string Digest(byte[] bytes) => Convert.ToHexStringLower(SHA256.HashData(bytes));

    private OffloadBench Doubled()
    {
        double fastest = Math.Max(Math.Max(bench.Reader, bench.First), Math.Max(bench.Second, bench.Third));
        return bench.First == fastest ? bench with { First = fastest * 2 } : bench.Second == fastest ? bench with { Second = fastest * 2 }
            : bench.Third == fastest ? bench with { Third = fastest * 2 } : bench with { Reader = fastest * 2 };
    }

    private OffloadBench Replaced()
    {
        double slowest = Math.Min(bench.First, Math.Min(bench.Second, bench.Third));
        double better = Math.Max(900, slowest);
        return bench.Third == slowest ? bench with { Third = better } : bench.Second == slowest ? bench with { Second = better } : bench with { First = better };
    }

    private static async Task<DayOffload> DayAsync(OffloadBench means, VerifyLevel level)
    {
        SuiteClients suite = await Suite.ClientsAsync().ConfigureAwait(false);
        long bytes = checked((long)Math.Round(means.CardGigabytes * 1e9));
        SimulateDaysRequest request = new() { Means = new() { Stations = means.Stations, ReaderBytesPerSecond = means.Reader * 1e6, Verify = level } };
        double[] rates = [means.First, means.Second, means.Third];
        for (int i = 0; i < rates.Length; i++)
        {
            request.Means.Destinations.Add(new Destination { Label = $"destination {i + 1}", SustainedBytesPerSecond = rates[i] * 1e6 });
        }

        OffloadDay day = new() { Label = "day", WrapSeconds = WrapSeconds };
        for (int i = 0; i < means.Cards; i++)
        {
            CameraDay camera = new() { Camera = ((char)('A' + i)).ToString(), CardBytes = bytes };
            camera.Takes.Add(new RecordedTake { StartSeconds = WrapSeconds - 600, EndSeconds = WrapSeconds, Bytes = bytes, Files = 1 });
            day.Cameras.Add(camera);
        }

        request.Days.Add(day);
        SimulateDaysResponse answer = await suite.Offload.SimulateDaysAsync(request, cancellationToken: Output.Stop).ResponseAsync.ConfigureAwait(false);
        return answer.Results[0].Error is { } error ? throw new InvalidOperationException($"{error.Field}: {error.Description}") : answer.Results[0].Offload;
    }
}
