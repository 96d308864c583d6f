using PostPipeline.Flows;
using PostPipeline.Quantities;

namespace PostPipeline.Footage.Stores;

/// <summary>
/// One copy or derivative of the pictures: a rectangle in time with ramps. It falls only when it is purged, never
/// on a date alone; the trigger says what must have happened.
/// </summary>
/// <param name="Name">What people call it: originals, mezzanine, proxies.</param>
/// <param name="Tier">The tier that holds it.</param>
/// <param name="Bytes">Bytes of one copy when complete.</param>
/// <param name="FromSeconds">When its first byte is written, on the caller's clock.</param>
/// <param name="CompleteSeconds">When its last byte is written; growth between is even.</param>
public sealed record Generation(string Name, string Tier, long Bytes, long FromSeconds, long CompleteSeconds)
{
    /// <summary>Copies on the tier, 1 or more.</summary>
    public int Copies { get; init; } = 1;

    /// <summary>When the purge starts, or null where it is kept for good.</summary>
    public long? PurgeSeconds { get; init; }

    /// <summary>When the purge is done; null for at once.</summary>
    public long? PurgedSeconds { get; init; }

    /// <summary>What must have happened before it may be purged, in words.</summary>
    public string PurgeTrigger { get; init; } = string.Empty;

    /// <summary>Who pays for it.</summary>
    public string Payer { get; init; } = string.Empty;

    /// <summary>Bytes of all copies.</summary>
    /// <exception cref="OverflowException">They pass 2⁶³−1.</exception>
    public long TotalBytes => checked(Bytes * Copies);

    /// <summary>What it writes to the tier, and what it purges.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A size or time is out of order.</exception>
    public IEnumerable<OccupancyChange> Changes()
    {
        Guard.InRange(Copies, 1, 1000);
        yield return OccupancyChange.Written(FromSeconds, CompleteSeconds, TotalBytes);
        if (PurgeSeconds is { } purge)
        {
            Guard.InRange(purge, CompleteSeconds, OccupancyCurve.LastInstant);
            yield return OccupancyChange.Purged(purge, PurgedSeconds ?? purge, TotalBytes);
        }
    }
}
