namespace PostPipeline.Quantities;

/// <summary>Bits per second as an exact fraction; bytes per frame times frames per second has no decimal end at 24000/1001.</summary>
public readonly record struct DataRate : IComparable<DataRate>
{
    private DataRate(Rational bitsPerSecond) => BitsPerSecond = bitsPerSecond;

    /// <summary>Bits per second, exact, never negative.</summary>
    public Rational BitsPerSecond { get; }

    /// <summary>Bytes per second, exact.</summary>
    public Rational BytesPerSecond => BitsPerSecond / 8;

    /// <summary>Megabytes per second (10⁶ B), for print and estimates.</summary>
    public double MegabytesPerSecond => BitsPerSecond.ToDouble() / 8e6;

    /// <summary>Compares by bits per second.</summary>
    public static bool operator <(DataRate a, DataRate b) => a.BitsPerSecond < b.BitsPerSecond;

    /// <summary>Compares by bits per second.</summary>
    public static bool operator >(DataRate a, DataRate b) => a.BitsPerSecond > b.BitsPerSecond;

    /// <summary>Compares by bits per second.</summary>
    public static bool operator <=(DataRate a, DataRate b) => a.BitsPerSecond <= b.BitsPerSecond;

    /// <summary>Compares by bits per second.</summary>
    public static bool operator >=(DataRate a, DataRate b) => a.BitsPerSecond >= b.BitsPerSecond;

    /// <summary>Creates a rate from bits per second.</summary>
    /// <param name="bitsPerSecond">Zero or more.</param>
    /// <exception cref="ArgumentOutOfRangeException">The rate is negative.</exception>
    public static DataRate FromBitsPerSecond(Rational bitsPerSecond) =>
        bitsPerSecond.Sign >= 0
            ? new(bitsPerSecond)
            : throw new ArgumentOutOfRangeException(nameof(bitsPerSecond), bitsPerSecond, $"The data rate is {bitsPerSecond} bit/s; allowed is 0 or more.");

    /// <summary>Creates a rate from bytes per second.</summary>
    /// <param name="bytesPerSecond">Zero or more.</param>
    public static DataRate FromBytesPerSecond(Rational bytesPerSecond) => FromBitsPerSecond(bytesPerSecond * 8);

    /// <summary>The rate at which frames of one size pass.</summary>
    /// <param name="bytesPerFrame">Bytes per frame, zero or more.</param>
    /// <param name="rate">Frames per second.</param>
    public static DataRate FromFrames(long bytesPerFrame, FrameRate rate) => FromBytesPerSecond(bytesPerFrame * rate.FramesPerSecond);

    /// <inheritdoc/>
    public int CompareTo(DataRate other) => BitsPerSecond.CompareTo(other.BitsPerSecond);

    /// <summary>Bits per second with their unit, for messages.</summary>
    public override string ToString() => $"{BitsPerSecond} bit/s";
}
