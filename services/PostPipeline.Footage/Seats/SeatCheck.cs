using PostPipeline.Quantities;

namespace PostPipeline.Footage.Seats;

/// <summary>Whether a workstation can cut originals: frames a second needed, layers or angles × rate, against decoding as measured.</summary>
public readonly record struct SeatCheck
{
    /// <summary>Common practice: comfortable from 1.5 times what is needed.</summary>
    public static readonly Rational ComfortableFrom = new(3, 2);

    private SeatCheck(Rational needed, Rational? measured, long memoryBytes, long? availableBytes) =>
        (NeededFramesPerSecond, MeasuredFramesPerSecond, MemoryBytes, AvailableBytes) = (needed, measured, memoryBytes, availableBytes);

    /// <summary>Frames a second that must be decoded.</summary>
    public Rational NeededFramesPerSecond { get; }

    /// <summary>Frames a second measured on such a workstation, or null.</summary>
    public Rational? MeasuredFramesPerSecond { get; }

    /// <summary>Bytes of decoded frames kept ready for all layers.</summary>
    public long MemoryBytes { get; }

    /// <summary>Bytes of memory for them, or null where it is not known.</summary>
    public long? AvailableBytes { get; }

    /// <summary>Measured ÷ needed, or null.</summary>
    public Rational? Reserve => MeasuredFramesPerSecond / NeededFramesPerSecond;

    /// <summary>How it goes.</summary>
    public SeatVerdict Verdict => Reserve is null ? SeatVerdict.NotMeasured
        : AvailableBytes < MemoryBytes || Reserve < 1 ? SeatVerdict.Fails
        : Reserve < ComfortableFrom ? SeatVerdict.Tight : SeatVerdict.Comfortable;

    /// <summary>Checks a seat.</summary>
    /// <param name="layers">Layers or angles that play at once, 1 to 64; all angles of a multicam cut play at once.</param>
    /// <param name="rate">Frames a second of the timeline.</param>
    /// <param name="measured">Frames a second decoded, measured; null where not.</param>
    /// <param name="decodedFrameBytes">Bytes of one decoded frame.</param>
    /// <param name="framesReady">Decoded frames kept ready for each layer.</param>
    /// <param name="available">Bytes of memory for them, or null.</param>
    public static SeatCheck Of(int layers, FrameRate rate, Rational? measured, long decodedFrameBytes = 0, int framesReady = 0, DataSize? available = null)
    {
        Guard.InRange(layers, 1, 64);
        Guard.InRange(decodedFrameBytes, 0, 1L << 40);
        Guard.InRange(framesReady, 0, 10_000);
        return measured?.Sign < 0
            ? throw new ArgumentOutOfRangeException(nameof(measured), measured, $"The measured decoding is {measured} frames a second; allowed is 0 or more.")
            : new(layers * rate.FramesPerSecond, measured, checked(layers * framesReady * decodedFrameBytes), available?.Bytes);
    }
}
