using PostPipeline.Quantities;

namespace PostPipeline.Footage.Recordings;

/// <summary>
/// What a buffer holds of a mode that the medium cannot take: t = B ÷ (I − (1−p)·W) where the buffer drains from
/// the trigger on, t = B ÷ I where it drains only afterwards or nobody knows. A ring that waits for a trigger
/// cannot drain, which is why the position of the trigger matters.
/// </summary>
public sealed record BurstWindow
{
    private BurstWindow()
    {
    }

    /// <summary>Seconds the window holds, exact.</summary>
    public required Rational WindowSeconds { get; init; }

    /// <summary>Whole frames the window holds.</summary>
    public required long Frames { get; init; }

    /// <summary>Seconds on screen, exact.</summary>
    public required Rational ScreenSeconds { get; init; }

    /// <summary>Seconds of the window before the press, p·t; full only once armed for that long.</summary>
    public required Rational SecondsBeforePress { get; init; }

    /// <summary>Bytes in the part that holds the window, full at its end.</summary>
    public required DataSize PartBytes { get; init; }

    /// <summary>Seconds until that part is empty again, exact.</summary>
    public required Rational DrainSeconds { get; init; }

    /// <summary>Seconds until the camera is ready again: drain and reset.</summary>
    public required Rational ReadyAgainSeconds { get; init; }

    /// <summary>Windows an hour back to back, exact.</summary>
    public required Rational TakesPerHour { get; init; }

    /// <summary>What a loss of power costs with every part full: nothing of it has reached the medium.</summary>
    public required DataSize BytesAtRisk { get; init; }

    /// <summary>The same in whole frames, rounded up.</summary>
    public required long FramesAtRisk { get; init; }

    /// <summary>Seconds after the press.</summary>
    public Rational SecondsAfterPress => WindowSeconds - SecondsBeforePress;

    /// <summary>
    /// Works out the window, or null where the buffer never fills: draining keeps up with what comes in.
    /// </summary>
    /// <param name="incoming">What comes in, pictures and sound. Above zero.</param>
    /// <param name="sensorRate">Frames recorded a second.</param>
    /// <param name="projectRate">Frames played back a second.</param>
    /// <param name="ceiling">What the medium takes.</param>
    /// <param name="buffer">The buffer.</param>
    /// <exception cref="ArgumentOutOfRangeException">The trigger lies outside 0 to 1, or a count or time is out of range.</exception>
    public static BurstWindow? Of(DataRate incoming, FrameRate sensorRate, FrameRate projectRate, WriteCeiling ceiling, CaptureBuffer buffer)
    {
        Rational p = buffer.TriggerPosition;
        if (p.Sign < 0 || p > 1)
        {
            throw new ArgumentOutOfRangeException(nameof(buffer), p, $"The trigger position is {p}; allowed is 0 (the window starts at the press) to 1 (it ends there).");
        }

        Guard.InRange(buffer.Partitions, 1, 1024);
        if (buffer.ResetSeconds.Sign < 0)
        {
            throw new ArgumentOutOfRangeException(nameof(buffer), buffer.ResetSeconds, $"The reset takes {buffer.ResetSeconds} s; allowed is 0 or more.");
        }

        if (incoming.BitsPerSecond.Sign == 0)
        {
            throw new ArgumentOutOfRangeException(nameof(incoming), incoming, "The incoming rate is 0; allowed is above 0.");
        }

        Rational drained = buffer.Drain == DrainBehaviour.FromTrigger ? (1 - p) * ceiling.Rate.BytesPerSecond : Rational.Zero;
        Rational net = incoming.BytesPerSecond - drained;
        if (net.Sign <= 0)
        {
            return null;
        }

        long part = buffer.Capacity.Bytes / buffer.Partitions;
        Rational window = part / net;
        Rational drain = part / ceiling.Rate.BytesPerSecond;
        Rational ready = drain + buffer.ResetSeconds;
        return new BurstWindow
        {
            WindowSeconds = window,
            Frames = (window * sensorRate.FramesPerSecond).Floor(),
            ScreenSeconds = window * sensorRate.FramesPerSecond / projectRate.FramesPerSecond,
            SecondsBeforePress = p * window,
            PartBytes = DataSize.FromBytes(part),
            DrainSeconds = drain,
            ReadyAgainSeconds = ready,
            TakesPerHour = 3600 / (window + ready),
            BytesAtRisk = buffer.Capacity,
            FramesAtRisk = (buffer.Capacity.Bytes * sensorRate.FramesPerSecond / incoming.BytesPerSecond).Ceiling(),
        };
    }
}
