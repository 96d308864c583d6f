using PostPipeline.Flows;

namespace PostPipeline.Farms;

/// <summary>
/// Whether a farm can hold what is due: for every pair (release, due), the work that lies wholly inside must not exceed the
/// capacity inside. Where a pair fails, no order of work can help; where all pass, one may still be missing.
/// </summary>
/// <remarks>The demand bound of scheduling with release dates and deadlines; common in the trade, no one source.</remarks>
public static class CapacityCheck
{
    /// <summary>The pair with the largest shortfall, or the least slack where none falls short; null where there is no work.</summary>
    /// <param name="work">What is due.</param>
    /// <param name="nodes">Reference nodes.</param>
    /// <param name="open">When they run; microseconds.</param>
    /// <param name="useful">The useful part of an open hour: efficiency × availability, above 0 to 1.</param>
    public static CapacityGap? Worst(IReadOnlyList<DueWork> work, double nodes, Windows open, double useful)
    {
        CapacityGap? worst = null;
        foreach (long release in work.Select(w => w.ReleaseMicroseconds).Distinct())
        {
            double inside = 0;
            foreach (DueWork next in work.Where(w => w.ReleaseMicroseconds >= release).OrderBy(w => w.DueMicroseconds))
            {
                inside += next.NodeHours;
                double capacity = nodes * useful * FarmClock.ToHours(open.OpenBetween(release, Math.Max(release, next.DueMicroseconds)));
                if (worst is null || inside - capacity > worst.ShortNodeHours)
                {
                    worst = new(release, next.DueMicroseconds, inside, capacity);
                }
            }
        }

        return worst;
    }
}
