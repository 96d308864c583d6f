using NodaTime;
using PostPipeline.Quantities.Randomness;

namespace PostPipeline.Studies.Reforecasts;

/// <summary>All bytes of the shoot by what was seen: the days seen are facts, the others are multiplied by the blend.</summary>
/// <param name="SoFar">Bytes recorded so far.</param>
/// <param name="PlannedSoFar">Bytes of the same days, as planned.</param>
/// <param name="Bytes">The blend of bytes a day.</param>
/// <param name="Total">All bytes at the end of the shoot; P10 is never below what was recorded.</param>
internal sealed record VolumeForecast(double SoFar, double PlannedSoFar, Blend Bytes, Outcomes.Range Total)
{
    /// <summary>The forecast after some days.</summary>
    public static VolumeForecast Of(Baseline baseline, IReadOnlyList<LogDay> log)
    {
        LocalDate seen = log.Max(d => d.Date);
        Dictionary<(LocalDate, string), double> planned = baseline.Days.ToDictionary(d => (d.Date, d.Unit), d => d.Bytes);
        IGrouping<LocalDate, LogDay>[] days = [.. log.GroupBy(d => d.Date).OrderBy(g => g.Key)];
        double[] plan = [.. days.Select(g => g.Sum(d => planned.GetValueOrDefault((d.Date, d.Unit))))];
        Blend bytes = Blend.Of(plan, [.. days.Select(g => g.Sum(d => d.Bytes))], baseline.DaySpread);
        double[] remaining = [.. baseline.Days.Where(d => d.Date > seen).GroupBy(d => d.Date).Select(g => g.Sum(d => d.Bytes))];
        double soFar = log.Sum(d => d.Bytes);
        double total = bytes.Total(soFar, remaining);
        double width = NormalDistribution.Quantile(0.9) * bytes.TotalDeviation(remaining);
        return new(soFar, plan.Sum(), bytes, new(Math.Max(soFar, total - width), total, total + width));
    }

    /// <summary>The day from which on the median forecast has lain outside the plan's P10–P90; null while it lies inside.</summary>
    public static LocalDate? LeftBand(Baseline baseline, IReadOnlyList<LogDay> log)
    {
        LocalDate? left = null;
        foreach (LocalDate day in log.Select(d => d.Date).Distinct().OrderDescending())
        {
            double median = Of(baseline, [.. log.Where(d => d.Date <= day)]).Total.P50;
            if (median >= baseline.TotalBytes.P10 && median <= baseline.TotalBytes.P90)
            {
                break;
            }

            left = day;
        }

        return left;
    }
}
