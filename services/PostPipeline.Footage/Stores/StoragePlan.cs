using PostPipeline.Flows;
using PostPipeline.Quantities;

namespace PostPipeline.Footage.Stores;

/// <summary>
/// Generations laid over one another, tier by tier. Every tier is shown, because a small peak online can hide a
/// large one nearline.
/// </summary>
public sealed record StoragePlan
{
    private StoragePlan(IReadOnlyList<TierPlan> tiers, OccupancyCurve all) => (Tiers, All) = (tiers, all);

    /// <summary>Each tier in the order given.</summary>
    public IReadOnlyList<TierPlan> Tiers { get; }

    /// <summary>All tiers together.</summary>
    public OccupancyCurve All { get; }

    /// <summary>Lays generations over one another.</summary>
    /// <param name="generations">The generations.</param>
    /// <param name="tiers">The tiers, each name once.</param>
    /// <exception cref="ArgumentException">A tier stands twice, or a generation is on a tier that is not listed.</exception>
    /// <exception cref="OverflowException">A total passes 2⁶³−1 bytes.</exception>
    public static StoragePlan Of(IReadOnlyList<Generation> generations, IReadOnlyList<Tier> tiers)
    {
        Dictionary<string, List<Generation>> byTier = new(StringComparer.Ordinal);
        foreach (Tier tier in tiers)
        {
            if (!byTier.TryAdd(tier.Name, []))
            {
                throw new ArgumentException($"The tier '{tier.Name}' is listed twice.", nameof(tiers));
            }
        }

        foreach (Generation generation in generations)
        {
            if (!byTier.TryGetValue(generation.Tier, out List<Generation>? own))
            {
                throw new ArgumentException($"The generation '{generation.Name}' is on the tier '{generation.Tier}', which is not listed; listed are {string.Join(", ", byTier.Keys)}.", nameof(generations));
            }

            own.Add(generation);
        }

        OccupancyCurve all = OccupancyCurve.From([.. generations.SelectMany(g => g.Changes())]);
        return new([.. tiers.Select(t => Plan(t, byTier[t.Name]))], all);
    }

    private static TierPlan Plan(Tier tier, List<Generation> generations)
    {
        OccupancyCurve curve = OccupancyCurve.From([.. generations.SelectMany(g => g.Changes())]);
        (Generation Generation, long Bytes)[] atPeak = [.. generations.Select(g => (g, Held(g, curve)))
            .Where(p => p.Item2 > 0).OrderByDescending(p => p.Item2)];
        return new() { Tier = tier, Curve = curve, AtPeak = atPeak };
    }

    // The peak is reached just before the instant where a purge without length falls on it.
    private static long Held(Generation generation, OccupancyCurve curve)
    {
        bool before = curve.At(curve.PeakInstant) < curve.PeakBytes;
        return generation.Changes().Where(c => !before || c.From < curve.PeakInstant).Sum(c => c.MovedBy(curve.PeakInstant));
    }
}
