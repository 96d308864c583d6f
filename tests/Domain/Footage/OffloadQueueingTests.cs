using System.Collections.Concurrent;
using System.Globalization;
using PostPipeline.Footage.Offloads;
using PostPipeline.Quantities.Randomness;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Domain.Tests.Footage;

/// <summary>
/// The offload against closed forms of queueing theory: Poisson arrivals of equal cards (M/D/1: the M/G/1 rows with
/// squared variation 0) and of cards with exponential times (M/M/m). Source: queueing_checks.csv, GNU Octave 7.3 with the
/// queueing package 1.2.7.
/// </summary>
/// <remarks>
/// Rule: every row lies inside a simultaneous 99.9 % interval (Bonferroni over the rows of this table), made of batch
/// means after a warm-up of one batch; seeds were fixed before looking. The long tier (POSTPIPELINE_LONG=1) runs the
/// counts that bring every half-width to 2 % or less, and asserts that; the fast tier runs fewer cards.
/// </remarks>
public class OffloadQueueingTests
{
    private const long Seed = 20_260_401;
    private const double BytesPerSecond = 1e6;

    // The mean card takes 100 s of the station, so that a microsecond of rounding is one part in 10⁸.
    private const double MeanSeconds = 100;
    private const int Batches = 64;
    private static readonly ConcurrentDictionary<(bool Equal, double Load, int Servers), Lazy<Observed>> Runs = [];
    private static readonly bool Long = Environment.GetEnvironmentVariable("POSTPIPELINE_LONG") == "1";

    public static TheoryData<string, string, string, double> Rows
    {
        get
        {
            TheoryData<string, string, string, double> rows = [];
            foreach (CsvTable.Row row in CsvTable.Read(Outside.Table("queueing/queueing_checks.csv")).Rows.Where(IsOurs))
            {
                rows.Add(row["model"], row["params"], row["measure"], double.Parse(row["value"], CultureInfo.InvariantCulture));
            }

            return rows;
        }
    }

    [Theory]
    [MemberData(nameof(Rows))]
    public void Run_PoissonArrivals_MeetsTheClosedForm(string model, string parameters, string measure, double expected)
    {
        (double load, int servers) = Read(model, parameters);
        Observed observed = Runs.GetOrAdd((model == "M/G/1", load, servers), key => new(() => Simulate(key.Equal, key.Load, key.Servers, Seed, Cards(key.Load / key.Servers, key.Servers)))).Value;
        (double mean, double halfWidth) = observed.Measure(measure, Interval(Rows.Count));

        // Times are in units of a mean card.
        Assert.InRange(expected, mean - halfWidth, mean + halfWidth);
        if (Long)
        {
            Assert.True(halfWidth / expected <= 0.02, $"{model} {parameters} {measure}: half-width {halfWidth / expected:P2} of {expected}");
        }
    }

    // What is held against the closed forms is the simulation: fed the same cards, it starts and ends every one of them at the
    // same microsecond as the loop above.
    [Theory]
    [InlineData(true, 0.7, 1)]
    [InlineData(false, 0.9, 1)]
    [InlineData(false, 4.5, 5)]
    public void Run_SameCards_AreServedAtTheSameInstants(bool equal, double load, int servers)
    {
        OffloadMeans means = new(servers, BytesPerSecond, [new("copy", BytesPerSecond)]) { Verify = VerifyLevel.None };
        List<CardArrival> cards = [];
        List<(long Start, long End)> expected = [];
        Serve(equal, load, servers, Seed, 20_000, (card, start, end) =>
        {
            cards.Add(card);
            expected.Add((start, end));
        });
        Assert.Equal(expected, OffloadSimulation.Run(means, cards).Select(r => (r.StartedMicroseconds, r.DoneMicroseconds)));
        Assert.Contains(expected.Zip(cards), e => e.First.Start > e.Second.PulledMicroseconds);
    }

    // The nominal 95 % interval covers the closed form in 93 to 97 % of 1,000 seeds (fewer, with wider bounds, in the fast tier).
    [Theory]
    [InlineData("M/M/1", 0.5, 1.0)]
    [InlineData("M/D/1", 0.5, 0.5)]
    public void Run_NominalInterval_CoversAsPromised(string model, double load, double wait)
    {
        int seeds = Long ? 1000 : 100;
        int covered = 0;
        for (int seed = 0; seed < seeds; seed++)
        {
            (double mean, double halfWidth) = Simulate(model == "M/D/1", load, 1, Seed + seed, 20_000).Measure("Wq", Student95);
            covered += Math.Abs(mean - wait) <= halfWidth ? 1 : 0;
        }

        // 100 seeds: 85 to 100 is four standard deviations either side of 95.
        Assert.InRange((double)covered / seeds, Long ? 0.93 : 0.85, Long ? 0.97 : 1);
    }

    // Student's t with 62 degrees of freedom (63 batches): two-sided 5 %.
    private const double Student95 = 1.9990;

    // Two-sided 0.1 % over all rows by Bonferroni; normal quantile, widened by Cornish and Fisher's first terms for t with 62 degrees of freedom.
    private static double Interval(int rows)
    {
        double z = NormalDistribution.Quantile(1 - (0.001 / rows / 2));
        const double Freedom = Batches - 2;
        return z + (((z * z * z) + z) / (4 * Freedom)) + (((5 * Math.Pow(z, 5)) + (16 * z * z * z) + (3 * z)) / (96 * Freedom * Freedom));
    }

    // Relaxation grows with 1/(1 − ρ)²: more cards where the stations are busier. With many stations few cards wait,
    // and the mean wait needs more of them.
    private static long Cards(double rho, int servers)
    {
        double busier = Math.Max(0.5, 0.01 / ((1 - rho) * (1 - rho)));
        return Long ? (long)(40_000_000 * busier * Math.Min(8, 1 + (servers / 12.0))) : (long)(400_000 * busier);
    }

    private static Observed Simulate(bool equal, double load, int servers, long seed, long cards)
    {
        Observed observed = new(cards / Batches);
        long served = 0;
        long last = 0;
        Serve(equal, load, servers, seed, observed.CardsPerBatch * Batches, (card, start, end) =>
        {
            long b = served++ / observed.CardsPerBatch;
            observed.Waited[b] += start > card.PulledMicroseconds ? 1 : 0;
            observed.Waits[b] += start - card.PulledMicroseconds;
            observed.Responses[b] += end - card.PulledMicroseconds;
            observed.Clock[b] += card.PulledMicroseconds - last;
            last = card.PulledMicroseconds;
        });
        return observed;
    }

    // The simulation's own parts, card by card, because a billion cards do not fit a list.
    private static void Serve(bool equal, double load, int servers, long seed, long cards, Action<CardArrival, long, long> each)
    {
        CopyChain chain = new(new(servers, BytesPerSecond, [new("copy", BytesPerSecond)]) { Verify = VerifyLevel.None });
        StationQueue queue = new(servers);
        RandomStream arrivals = new(seed, RandomPurpose.Arrivals);
        RandomStream durations = new(seed, RandomPurpose.Durations);
        long now = 0;
        for (long i = 0; i < cards; i++)
        {
            now += (long)Math.Round(arrivals.NextExponential(MeanSeconds / load) * 1e6);
            double seconds = equal ? MeanSeconds : durations.NextExponential(MeanSeconds);
            CardArrival card = new(0, now, (long)(seconds * BytesPerSecond), 0);
            long start = queue.Start(now, out int station);
            long end = start + OffloadSimulation.Clock(chain.Times(card.Bytes).StationSeconds);
            queue.Occupy(station, end);
            each(card, start, end);
        }
    }

    // Sums of each batch, in microseconds where they are times; the first batch is the warm-up.
    private sealed class Observed(long cardsPerBatch)
    {
        public long CardsPerBatch => cardsPerBatch;

        public long[] Waited { get; } = new long[Batches];

        public long[] Waits { get; } = new long[Batches];

        public long[] Responses { get; } = new long[Batches];

        public long[] Clock { get; } = new long[Batches];

        public (double Mean, double HalfWidth) Measure(string measure, double quantile)
        {
            // Times are in units of a mean card; by Little's law a sum of times over a batch's clock is a mean count.
            Func<int, double> of = measure switch
            {
                "ErlangC_Pwait" or "ErlangC_Pwait_erlangc()" => b => (double)Waited[b] / cardsPerBatch,
                "Wq" => b => Waits[b] / (MeanSeconds * 1e6) / cardsPerBatch,
                "Lq" => b => (double)Waits[b] / Clock[b],
                "Q" or "L" => b => (double)Responses[b] / Clock[b],
                _ => b => Responses[b] / (MeanSeconds * 1e6) / cardsPerBatch,
            };
            double[] batches = [.. Enumerable.Range(1, Batches - 1).Select(of)];
            double mean = batches.Average();
            double deviation = Math.Sqrt(batches.Sum(m => (m - mean) * (m - mean)) / (batches.Length - 1));
            return (mean, quantile * deviation / Math.Sqrt(batches.Length));
        }
    }

    private static bool IsOurs(CsvTable.Row row) => row["model"] switch
    {
        "M/G/1" => row["params"].EndsWith("CV2=0", StringComparison.Ordinal) && (row["measure"] is "R" or "Wq" or "Q"),
        "M/M/m" => row["measure"] is "Wq" or "R_total" or "Lq" or "L" or "ErlangC_Pwait" or "ErlangC_Pwait_erlangc()",
        _ => false,
    };

    private static (double Load, int Servers) Read(string model, string parameters)
    {
        Dictionary<string, double> values = parameters.Split(';').Select(p => p.Split('=')).ToDictionary(p => p[0], p => double.Parse(p[1], CultureInfo.InvariantCulture));
        return model == "M/G/1" ? (values["lambda"], 1) : (values["offered_load_erlang"], (int)values["servers"]);
    }
}
