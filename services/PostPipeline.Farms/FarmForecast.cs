using PostPipeline.Quantities;
using PostPipeline.Quantities.Randomness;

namespace PostPipeline.Farms;

/// <summary>What many replications of a farm came to. An instant that was not reached is <see cref="long.MaxValue"/>.</summary>
public sealed class FarmForecast
{
    private readonly long[] finishes;
    private readonly double[] ascending;
    private readonly long[][] jobFinishes;

    internal FarmForecast(long seed, ReplicationResult[] results, int jobs, int jobReplications)
    {
        Seed = seed;
        finishes = [.. results.Select(r => r.Finish ?? long.MaxValue)];
        ascending = Ascending(finishes);
        jobFinishes = new long[jobs][];
        for (int j = 0; j < jobs; j++)
        {
            jobFinishes[j] = new long[Math.Min(jobReplications, results.Length)];
            for (int r = 0; r < jobFinishes[j].Length; r++)
            {
                long finish = results[r].JobFinishes[j];
                jobFinishes[j][r] = finish < 0 ? long.MaxValue : finish;
            }
        }

        MeanBusyNodeHours = results.Average(r => FarmClock.ToHours(r.BusyMicroseconds));
        MeanWastedNodeHours = results.Average(r => FarmClock.ToHours(r.WastedMicroseconds));
        MeanFailures = results.Average(r => (double)r.Failures);
        MeanLost = results.Average(r => (double)r.Lost);
        MeanDropped = results.Average(r => (double)r.Dropped);
        MeanSetAside = results.Average(r => (double)r.SetAside);
        Events = results.Sum(r => r.Events);
    }

    /// <summary>The seed.</summary>
    public long Seed { get; }

    /// <summary>Replications run.</summary>
    public int Replications => finishes.Length;

    /// <summary>The finish of each replication, microseconds, by its number.</summary>
    public IReadOnlyList<long> Finishes => finishes;

    /// <summary>Mean node-hours held by tasks, all outcomes.</summary>
    public double MeanBusyNodeHours { get; }

    /// <summary>Mean node-hours of attempts that failed, were lost or were dropped.</summary>
    public double MeanWastedNodeHours { get; }

    /// <summary>Mean failed attempts.</summary>
    public double MeanFailures { get; }

    /// <summary>Mean attempts lost to closing windows and nodes that went down.</summary>
    public double MeanLost { get; }

    /// <summary>Mean second copies that were not needed.</summary>
    public double MeanDropped { get; }

    /// <summary>Mean tasks set aside until someone looked.</summary>
    public double MeanSetAside { get; }

    /// <summary>Events handled in all replications.</summary>
    public long Events { get; }

    /// <summary>A quantile of the finish, microseconds, type 7; infinite where it falls on a replication that did not finish.</summary>
    /// <param name="probability">0 to 1.</param>
    public double Finish(double probability) => OfAscending(ascending, probability);

    /// <summary>
    /// An interval for that quantile that needs no assumption about the distribution: the order statistics whose ranks
    /// enclose n·p by the normal approximation of the binomial.
    /// </summary>
    /// <param name="probability">Strictly between 0 and 1.</param>
    /// <param name="confidence">Strictly between 0 and 1.</param>
    public (double Low, double High) FinishInterval(double probability, double confidence = 0.95)
    {
        int n = ascending.Length;
        double half = NormalDistribution.Quantile((1 + confidence) / 2) * Math.Sqrt(n * probability * (1 - probability));
        int low = Math.Clamp((int)Math.Floor((n * probability) - half) - 1, 0, n - 1);
        int high = Math.Clamp((int)Math.Ceiling((n * probability) + half), 0, n - 1);
        return (ascending[low], ascending[high]);
    }

    /// <summary>The probability that all jobs are done by an instant.</summary>
    /// <param name="instant">Microseconds.</param>
    /// <param name="confidence">Confidence of the interval.</param>
    public Likelihood DoneBy(long instant, double confidence = 0.95) =>
        Likelihood.Of(finishes.Count(f => f <= instant), finishes.Length, confidence);

    /// <summary>A quantile of one job's finish, microseconds; from the first replications where there are very many jobs.</summary>
    /// <param name="job">The job, by index.</param>
    /// <param name="probability">0 to 1.</param>
    public double JobFinish(int job, double probability) => OfAscending(Ascending(jobFinishes[job]), probability);

    /// <summary>The finish of one job in each replication that was kept.</summary>
    /// <param name="job">The job, by index.</param>
    public IReadOnlyList<long> JobFinishes(int job) => jobFinishes[job];

    /// <summary>The probability that one job is done by an instant.</summary>
    /// <param name="job">The job, by index.</param>
    /// <param name="instant">Microseconds.</param>
    /// <param name="confidence">Confidence of the interval.</param>
    public Likelihood JobDoneBy(int job, long instant, double confidence = 0.95) =>
        Likelihood.Of(jobFinishes[job].Count(f => f <= instant), jobFinishes[job].Length, confidence);

    private static double[] Ascending(long[] values)
    {
        double[] sorted = [.. values.Select(v => v == long.MaxValue ? double.PositiveInfinity : v)];
        Array.Sort(sorted);
        return sorted;
    }

    // Between a number and infinity lies infinity; the ordinary interpolation would make it not a number.
    private static double OfAscending(double[] sorted, double probability)
    {
        double position = (sorted.Length - 1) * Guard.Finite(probability, 0, 1);
        return double.IsInfinity(sorted[(int)Math.Ceiling(position)]) ? double.PositiveInfinity : Quantiles.OfSorted(sorted, probability);
    }
}
