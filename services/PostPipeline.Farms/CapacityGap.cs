namespace PostPipeline.Farms;

/// <summary>Demand against capacity between two instants.</summary>
/// <param name="FromMicroseconds">The release.</param>
/// <param name="UntilMicroseconds">The due instant.</param>
/// <param name="DemandNodeHours">Work that lies wholly inside.</param>
/// <param name="CapacityNodeHours">What the farm can do inside.</param>
public sealed record CapacityGap(long FromMicroseconds, long UntilMicroseconds, double DemandNodeHours, double CapacityNodeHours)
{
    /// <summary>How much is missing; negative is slack.</summary>
    public double ShortNodeHours => DemandNodeHours - CapacityNodeHours;
}
