using PostPipeline.Quantities;

namespace PostPipeline.Studies.Briefs;

/// <summary>A storage tier.</summary>
/// <param name="Capacity">Bytes before redundancy; null where not bounded.</param>
/// <param name="Redundancy">Raw bytes per stored byte.</param>
/// <param name="Free">Share kept free.</param>
/// <param name="Read">Measured read rate.</param>
/// <param name="Write">Write rate.</param>
public sealed record Tier(
    DataSize? Capacity,
    double Redundancy,
    double Free,
    DataRate Read,
    DataRate Write)
{
    /// <summary>Bytes that may be stored, after redundancy and free space; infinite where the capacity is not bounded.</summary>
    public double UsableBytes => Capacity is { } size ? size.Bytes / Redundancy * (1 - Free) : double.PositiveInfinity;
}
