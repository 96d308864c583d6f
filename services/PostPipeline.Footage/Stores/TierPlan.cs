using PostPipeline.Flows;
using PostPipeline.Quantities;

namespace PostPipeline.Footage.Stores;

/// <summary>One tier over time.</summary>
public sealed record TierPlan
{
    /// <summary>The alarm, at 80 % of the usable bytes.</summary>
    public static readonly Rational AlarmAt = new(4, 5);

    /// <summary>Stop ingest, at 90 % of the usable bytes.</summary>
    public static readonly Rational StopIngestAt = new(9, 10);

    /// <summary>The tier.</summary>
    public required Tier Tier { get; init; }

    /// <summary>Bytes over time.</summary>
    public required OccupancyCurve Curve { get; init; }

    /// <summary>What each generation has on the tier at the peak, largest first; they add up to the peak.</summary>
    public required IReadOnlyList<(Generation Generation, long Bytes)> AtPeak { get; init; }

    /// <summary>Raw bytes to buy for the peak, free space and redundancy put on.</summary>
    public long ToBuyBytes => Tier.ToBuy(Curve.PeakBytes);

    /// <summary>When 80 % of the usable bytes are reached, or null.</summary>
    public long? AlarmSeconds => Reaching(AlarmAt);

    /// <summary>When 90 % of the usable bytes are reached, or null.</summary>
    public long? StopIngestSeconds => Reaching(StopIngestAt);

    /// <summary>When the tier is full, or null.</summary>
    public long? FullSeconds => Tier.UsableBytes is { } usable && usable < long.MaxValue ? Curve.FirstReaching(usable + 1) : null;

    /// <summary>Plannable bytes less the peak; negative where the plan does not fit; null where nothing is bought yet.</summary>
    public long? SpareBytes => Tier.PlannableBytes - Curve.PeakBytes;

    private long? Reaching(Rational part) => Tier.PartOfUsable(part) is { } bytes && bytes > 0 ? Curve.FirstReaching(bytes) : null;
}
