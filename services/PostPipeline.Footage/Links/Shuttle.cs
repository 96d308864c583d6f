using PostPipeline.Quantities;

namespace PostPipeline.Footage.Links;

/// <summary>A drive carried by hand: copied on, checked, driven, copied off, checked. Driving and rest rules prevail.</summary>
/// <param name="WriteBytesPerSecond">Onto the drive.</param>
/// <param name="ReadBytesPerSecond">Off it.</param>
/// <param name="TravelHours">On the way.</param>
/// <param name="Verified">Whether both copies are read again.</param>
public readonly record struct Shuttle(double WriteBytesPerSecond, double ReadBytesPerSecond, double TravelHours, bool Verified = true)
{
    /// <summary>Hours until the last byte is there and checked.</summary>
    /// <param name="size">What is carried.</param>
    public double Hours(DataSize size)
    {
        double write = Guard.Finite(WriteBytesPerSecond, 1, 1e15);
        double read = Guard.Finite(ReadBytesPerSecond, 1, 1e15);
        double travel = Guard.Finite(TravelHours, 0, 10_000);
        double on = size.Bytes / write;
        double off = size.Bytes / read;
        double check = Verified ? size.Bytes / read * 2 : 0;
        return ((on + off + check) / 3600) + travel;
    }
}
