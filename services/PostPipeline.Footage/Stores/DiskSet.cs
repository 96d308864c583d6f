using PostPipeline.Quantities;

namespace PostPipeline.Footage.Stores;

/// <summary>
/// What can be planned from raw disks: groups of data and parity drives, spares beside them, a part kept free.
/// A redundant array is not a copy.
/// </summary>
public readonly record struct DiskSet
{
    private DiskSet(int drives, DataSize drive, int data, int parity, int spares, Rational free) =>
        (Drives, Drive, DataDrives, ParityDrives, Spares, Free) = (drives, drive, data, parity, spares, free);

    /// <summary>All drives.</summary>
    public int Drives { get; }

    /// <summary>Bytes of one drive.</summary>
    public DataSize Drive { get; }

    /// <summary>Data drives of a group.</summary>
    public int DataDrives { get; }

    /// <summary>Parity drives of a group.</summary>
    public int ParityDrives { get; }

    /// <summary>Drives kept aside.</summary>
    public int Spares { get; }

    /// <summary>The part kept free.</summary>
    public Rational Free { get; }

    /// <summary>Whole groups that the drives make.</summary>
    public int Groups => (Drives - Spares) / (DataDrives + ParityDrives);

    /// <summary>All bytes bought.</summary>
    public DataSize Raw => Drive * Drives;

    /// <summary>Bytes that hold data.</summary>
    public DataSize Usable => Drive * ((long)Groups * DataDrives);

    /// <summary>Bytes that a plan may fill, rounded down.</summary>
    public DataSize Plannable
    {
        get
        {
            Rational filled = 1 - Free;
            return DataSize.FromBytes((Int128)Usable.Bytes * filled.Numerator / filled.Denominator);
        }
    }

    /// <summary>Raw ÷ usable of a group: 5/4 for 8+2, 6/5 for 10+2.</summary>
    public Rational CostFactor => new(DataDrives + ParityDrives, DataDrives);

    /// <summary>Creates a set.</summary>
    /// <param name="drives">1 to 100,000 drives.</param>
    /// <param name="drive">Bytes of one.</param>
    /// <param name="dataDrives">Data drives of a group, 1 or more.</param>
    /// <param name="parityDrives">Parity drives of a group, 0 or more.</param>
    /// <param name="spares">Drives kept aside.</param>
    /// <param name="free">The part kept free; null for 1/5.</param>
    public static DiskSet From(int drives, DataSize drive, int dataDrives, int parityDrives, int spares = 0, Rational? free = null)
    {
        Guard.InRange(drives, 1, 100_000);
        Guard.InRange(drive.Bytes, 1, long.MaxValue / 100_000);
        Guard.InRange(dataDrives, 1, 1000);
        Guard.InRange(parityDrives, 0, 1000);
        Guard.InRange(spares, 0, drives);
        Rational part = free ?? Tier.DefaultFree;
        return part.Sign >= 0 && part < 1
            ? new(drives, drive, dataDrives, parityDrives, spares, part)
            : throw new ArgumentOutOfRangeException(nameof(free), part, $"The free part is {part}; allowed is 0 to below 1.");
    }

    /// <summary>Seconds to rebuild one drive: its bytes ÷ the rate that the array gives to it.</summary>
    /// <param name="rate">Above zero.</param>
    public Rational RebuildSeconds(DataRate rate) => Drive.Bytes / rate.BytesPerSecond;
}
