namespace PostPipeline.Quantities;

/// <summary>
/// A number of bytes, exact up to 9.2 EB. Units are decimal (1 GB = 10⁹ B) unless they are written with an
/// <c>i</c> (1 GiB = 2³⁰ B), after IEC 80000-13.
/// </summary>
/// <remarks>A sum or product beyond 64 bits throws <see cref="OverflowException"/>; it never wraps.</remarks>
public readonly record struct DataSize : IComparable<DataSize>
{
    private DataSize(long bytes) => Bytes = bytes;

    /// <summary>Nothing.</summary>
    public static DataSize Zero => default;

    /// <summary>Bytes; never negative.</summary>
    public long Bytes { get; }

    /// <summary>Gigabytes (10⁹ B), for print.</summary>
    public double Gigabytes => Bytes / 1e9;

    /// <summary>Terabytes (10¹² B), for print.</summary>
    public double Terabytes => Bytes / 1e12;

    /// <summary>Tebibytes (2⁴⁰ B), for print.</summary>
    public double Tebibytes => Bytes / (double)(1L << 40);

    /// <summary>Adds exactly.</summary>
    public static DataSize operator +(DataSize a, DataSize b) => new(checked(a.Bytes + b.Bytes));

    /// <summary>Multiplies by a whole count.</summary>
    public static DataSize operator *(DataSize a, long count) => FromBytes(checked(a.Bytes * count));

    /// <summary>Compares by bytes.</summary>
    public static bool operator <(DataSize a, DataSize b) => a.Bytes < b.Bytes;

    /// <summary>Compares by bytes.</summary>
    public static bool operator >(DataSize a, DataSize b) => a.Bytes > b.Bytes;

    /// <summary>Compares by bytes.</summary>
    public static bool operator <=(DataSize a, DataSize b) => a.Bytes <= b.Bytes;

    /// <summary>Compares by bytes.</summary>
    public static bool operator >=(DataSize a, DataSize b) => a.Bytes >= b.Bytes;

    /// <summary>Creates a size.</summary>
    /// <param name="bytes">Zero or more.</param>
    /// <exception cref="ArgumentOutOfRangeException">The count is negative.</exception>
    public static DataSize FromBytes(long bytes) =>
        new(Guard.InRange(bytes, 0, long.MaxValue));

    /// <summary>Creates a size from a 128-bit count.</summary>
    /// <param name="bytes">Zero or more, below 2⁶³.</param>
    /// <exception cref="OverflowException">The count is 2⁶³ or more.</exception>
    public static DataSize FromBytes(Int128 bytes) => FromBytes(checked((long)bytes));

    /// <inheritdoc/>
    public int CompareTo(DataSize other) => Bytes.CompareTo(other.Bytes);

    /// <summary>Bytes with their unit, for messages.</summary>
    public override string ToString() => $"{Bytes} B";
}
