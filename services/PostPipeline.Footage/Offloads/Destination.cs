using PostPipeline.Quantities;

namespace PostPipeline.Footage.Offloads;

/// <summary>
/// Something that copies are written to: a fast part (cache) of so many bytes, and a sustained rate behind it.
/// 512 GB at 450 MB/s for the first 150 GB and 150 MB/s after takes 45.8 min, not 19.0.
/// </summary>
public sealed record Destination
{
    /// <summary>Creates a destination with one rate.</summary>
    /// <param name="name">What people call it.</param>
    /// <param name="sustainedBytesPerSecond">Above 0.</param>
    public Destination(string name, double sustainedBytesPerSecond) =>
        (Name, SustainedBytesPerSecond) = (name, Guard.Finite(sustainedBytesPerSecond, 1, 1e15));

    /// <summary>What people call it.</summary>
    public string Name { get; }

    /// <summary>Bytes a second without end.</summary>
    public double SustainedBytesPerSecond { get; }

    /// <summary>Bytes of the fast part; 0 where there is none. It empties at the sustained rate while nothing is written.</summary>
    public long FastBytes { get; init; }

    /// <summary>Bytes a second into the fast part; not used where it is below the sustained rate.</summary>
    public double FastBytesPerSecond { get; init; }

    /// <summary>Bytes a second on reading back; null for the sustained rate.</summary>
    public double? ReadBytesPerSecond { get; init; }

    /// <summary>Whether it is written from the first destination afterwards, and not from the card.</summary>
    public bool Cascaded { get; init; }

    /// <summary>Bytes a second on reading back.</summary>
    public double ReadRate => ReadBytesPerSecond ?? SustainedBytesPerSecond;
}
