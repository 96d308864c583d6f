using System.Collections.Immutable;
using PostPipeline.Quantities;
using PostPipeline.Quantities.Randomness;
using PostPipeline.RenderTimes.Regression;

namespace PostPipeline.RenderTimes.FarmLogs;

/// <summary>
/// Reads a farm's log as measurements: seconds per frame of each job and the overhead of a task by least squares of
/// time on frames, with the nodes' own speeds taken out and outliers held down; failures, slow nodes, hours.
/// </summary>
public static class FarmLogReader
{
    /// <summary>The most attempts of a log.</summary>
    public const int MaximumAttempts = 1_000_000;

    private const int FewestAttempts = 5;
    private const double SlowFactor = 1.25;
    private const int Rounds = 4;
    private const int MostFittedJobs = 40;

    // Least squares sees at most so many tasks; the rest only confirm it.
    private const int MostFittedTasks = 20_000;

    /// <summary>Sums up a log.</summary>
    /// <param name="entries">Entries without violations, in any order, at least one.</param>
    /// <param name="offsetMinutes">Minutes by which the log's clock is ahead of UTC, −840 to 840, for the hours of the day.</param>
    /// <param name="cancellation">Ends the work.</param>
    public static FarmLogSummary Summarize(IReadOnlyList<FarmLogEntry> entries, int offsetMinutes, CancellationToken cancellation = default)
    {
        Guard.InRange(entries.Count, 1, MaximumAttempts, "attempts");
        Guard.InRange(offsetMinutes, -840, 840);
        FarmLogEntry[] done = [.. entries.Where(e => e.State == AttemptState.Done && e.Seconds > 0)];
        Fitted fitted = Fit(done, cancellation);
        FarmLogEntry[] ended = [.. entries.Where(e => e.State != AttemptState.Running)];
        IGrouping<(string Job, string Task), FarmLogEntry>[] tasks = [.. entries.GroupBy(e => (e.Job, e.Task))];
        int unlogged = tasks.Sum(Unlogged);
        int failed = ended.Count(e => e.State == AttemptState.Failed) + unlogged;
        int tried = ended.Length + unlogged;
        (double low, double high) = Wilson(failed, tried);
        double hours = ended.Sum(e => e.Seconds) / 3600;
        return new(
            entries.Count,
            tasks.Length,
            unlogged,
            [.. entries.GroupBy(e => e.Job, StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal).Select(g =>
            {
                double own = g.Where(e => e.State != AttemptState.Running).Sum(e => e.Seconds) / 3600;
                return new LoggedJob(
                    g.Key,
                    g.Where(e => e.State == AttemptState.Done).Sum(e => e.Frames),
                    fitted.SecondsPerFrame.GetValueOrDefault(g.Key, double.NaN),
                    own,
                    hours > 0 ? own / hours : 0);
            })],
            fitted.Overhead,
            fitted.OverheadError,
            tried > 0 ? (double)failed / tried : 0,
            low,
            high,
            (double)tasks.Count(t => t.Count() + Unlogged(t) > 1) / tasks.Length,
            tasks.Count(t => t.All(e => e.State == AttemptState.Failed)),
            [.. entries.GroupBy(e => e.Node, StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal).Select(g =>
            {
                double factor = fitted.NodeFactors.GetValueOrDefault(g.Key, double.NaN);
                return new LoggedNode(g.Key, g.Count(e => e.State == AttemptState.Done), factor, factor >= SlowFactor);
            })],
            Hours(ended, offsetMinutes, cancellation));
    }

    // The third attempt at a task says that there were two before it, whether or not the log kept their rows.
    private static int Unlogged(IEnumerable<FarmLogEntry> task) => Math.Max(0, task.Max(e => e.Attempt) - task.Count());

    private static Fitted Fit(FarmLogEntry[] done, CancellationToken cancellation)
    {
        Dictionary<string, double> perFrame = done.GroupBy(e => e.Job, StringComparer.Ordinal)
            .ToDictionary(g => g.Key, g => Median(g.Select(e => e.Seconds / e.Frames)), StringComparer.Ordinal);
        Dictionary<string, double> factors = new(StringComparer.Ordinal);
        double overhead = double.NaN;
        double error = double.NaN;
        for (int round = 0; round < Rounds && done.Length > 0; round++)
        {
            cancellation.ThrowIfCancellationRequested();
            factors = NodeFactors(done, perFrame, overhead);
            if (!TryRegress(done, perFrame, factors, overhead, out double intercept, out double deviation, out Dictionary<string, double> slopes))
            {
                break;
            }

            (overhead, error) = (intercept, deviation);
            foreach (IGrouping<string, FarmLogEntry> job in done.GroupBy(e => e.Job, StringComparer.Ordinal))
            {
                perFrame[job.Key] = slopes.TryGetValue(job.Key, out double slope)
                    ? slope
                    : Median(job.Select(e => Math.Max(e.Seconds - overhead, 0) / e.Frames / factors.GetValueOrDefault(e.Node, 1)));
            }
        }

        return new(perFrame, overhead, error, NodeFactors(done, perFrame, overhead));
    }

    private static bool TryRegress(
        FarmLogEntry[] done,
        Dictionary<string, double> perFrame,
        Dictionary<string, double> factors,
        double overhead,
        out double intercept,
        out double error,
        out Dictionary<string, double> slopes)
    {
        intercept = error = double.NaN;
        slopes = new(StringComparer.Ordinal);
        string[] jobs = [.. done.GroupBy(e => e.Job, StringComparer.Ordinal).Where(g => g.Count() >= FewestAttempts)
            .OrderByDescending(g => g.Count()).ThenBy(g => g.Key, StringComparer.Ordinal).Take(MostFittedJobs).Select(g => g.Key)];
        Dictionary<string, int> index = jobs.Select((job, i) => (job, i)).ToDictionary(j => j.job, j => j.i, StringComparer.Ordinal);
        FarmLogEntry[] used = [.. done.Where(e => index.ContainsKey(e.Job))];
        int step = Math.Max(1, ((used.Length - 1) / MostFittedTasks) + 1);
        used = [.. used.Where((_, i) => i % step == 0)];
        bool lengthsDiffer = used.GroupBy(e => e.Job, StringComparer.Ordinal).Any(g => g.Select(e => e.Frames).Distinct().Skip(1).Any());
        if (!lengthsDiffer || used.Length < jobs.Length + 3)
        {
            return false;
        }

        double start = double.IsNaN(overhead) ? 0 : overhead;
        double[] expected = [.. used.Select(e => Math.Max(start + (perFrame[e.Job] * e.Frames * factors.GetValueOrDefault(e.Node, 1)), 1e-9))];

        // Errors grow with the time itself, so each row counts by its relative error; one that is far off counts less (Huber 1964).
        double[] ratios = [.. used.Select((e, i) => Math.Abs((e.Seconds / expected[i]) - 1))];
        double scale = Math.Max(1.4826 * Median(ratios), 1e-6);
        double[] weights = [.. ratios.Select((r, i) => Math.Min(1, Math.Sqrt(1.345 * scale / Math.Max(r, 1e-12))) / expected[i])];
        double[][] columns = [[.. weights], .. jobs.Select((_, j) => used.Select((e, i) =>
            index[e.Job] == j ? weights[i] * e.Frames * factors.GetValueOrDefault(e.Node, 1) : 0).ToArray())];
        try
        {
            LeastSquaresFit fit = LeastSquares.Fit(columns, [.. used.Select((e, i) => e.Seconds * weights[i])], intercept: false);
            (intercept, error) = (Math.Max(fit.Coefficients[0], 0), fit.StandardErrors[0]);
            for (int j = 0; j < jobs.Length; j++)
            {
                slopes[jobs[j]] = Math.Max(fit.Coefficients[j + 1], 0);
            }

            return true;
        }
        catch (DependentColumnsException)
        {
            return false;
        }
    }

    private static Dictionary<string, double> NodeFactors(FarmLogEntry[] done, Dictionary<string, double> perFrame, double overhead)
    {
        double start = double.IsNaN(overhead) ? 0 : overhead;
        Dictionary<string, double> factors = done.Where(e => perFrame[e.Job] > 0).GroupBy(e => e.Node, StringComparer.Ordinal)
            .Where(g => g.Count() >= FewestAttempts)
            .ToDictionary(g => g.Key, g => Median(g.Select(e => Math.Max(e.Seconds - start, 0) / (perFrame[e.Job] * e.Frames))), StringComparer.Ordinal);
        double usual = factors.Count > 0 ? Median(factors.Values) : 1;
        return usual > 0 ? factors.ToDictionary(f => f.Key, f => f.Value / usual, StringComparer.Ordinal) : [];
    }

    private static ImmutableArray<LoggedHour> Hours(FarmLogEntry[] ended, int offsetMinutes, CancellationToken cancellation)
    {
        double[] busy = new double[24];
        int[] seen = new int[24];
        if (ended.Length == 0)
        {
            return [.. busy.Select((_, h) => new LoggedHour(h, 0, 0))];
        }

        double offset = offsetMinutes * 60.0;
        foreach (IGrouping<string, FarmLogEntry> node in ended.GroupBy(e => e.Node, StringComparer.Ordinal))
        {
            // In order of their starts, so that an hour counts once for a node however many attempts lie in it.
            long next = long.MinValue;
            foreach (FarmLogEntry entry in node.OrderBy(e => e.StartSeconds))
            {
                cancellation.ThrowIfCancellationRequested();
                double start = entry.StartSeconds + offset;
                double end = entry.EndSeconds + offset;
                for (long hour = (long)Math.Floor(start / 3600); hour * 3600 < end; hour++)
                {
                    busy[OfDay(hour)] += Math.Min(end, (hour + 1) * 3600.0) - Math.Max(start, hour * 3600.0);
                    if (hour >= next)
                    {
                        seen[OfDay(hour)]++;
                        next = hour + 1;
                    }
                }
            }
        }

        // How often each hour of the day lies between the first start and the last end.
        long first = (long)Math.Floor((ended.Min(e => e.StartSeconds) + offset) / 3600);
        long last = (long)Math.Ceiling((ended.Max(e => e.EndSeconds) + offset) / 3600);
        long[] times = new long[24];
        for (long hour = first; hour < Math.Max(last, first + 1); hour++)
        {
            times[OfDay(hour)]++;
        }

        int nodes = ended.Select(e => e.Node).Distinct(StringComparer.Ordinal).Count();
        return [.. Enumerable.Range(0, 24).Select(h => times[h] == 0
            ? new LoggedHour(h, 0, 0)
            : new LoggedHour(h, seen[h] / ((double)times[h] * nodes), busy[h] / (times[h] * 3600.0 * nodes)))];
    }

    // Hours before 1970 on the log's clock are negative.
    private static int OfDay(long hour) => (int)(((hour % 24) + 24) % 24);

    private static (double Low, double High) Wilson(int failed, int ended)
    {
        if (ended == 0)
        {
            return (0, 1);
        }

        double z = NormalDistribution.Quantile(0.95);
        double part = (double)failed / ended;
        double centre = (part + (z * z / (2 * ended))) / (1 + (z * z / ended));
        double half = z / (1 + (z * z / ended)) * Math.Sqrt((part * (1 - part) / ended) + (z * z / (4.0 * ended * ended)));
        return (Math.Max(0, centre - half), Math.Min(1, centre + half));
    }

    private static double Median(IEnumerable<double> values) => Quantiles.Of([.. values], 0.5);

    private sealed record Fitted(Dictionary<string, double> SecondsPerFrame, double Overhead, double OverheadError, Dictionary<string, double> NodeFactors);
}
