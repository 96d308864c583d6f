namespace PostPipeline.Footage.Offloads;

/// <summary>One unit's offload of one day, on that day's clock.</summary>
public sealed record DayOffload
{
    /// <summary>Each card's way, in order of arrival.</summary>
    public required IReadOnlyList<CardRun> Runs { get; init; }

    /// <summary>The names of the cameras that the numbers on cards stand for.</summary>
    public required IReadOnlyList<string> Cameras { get; init; }

    /// <summary>Cards that each camera needs.</summary>
    public required IReadOnlyList<CardsInRotation> Rotation { get; init; }

    /// <summary>Bytes recorded.</summary>
    public required long Bytes { get; init; }

    /// <summary>When the last card is done, in microseconds after midnight of the day; 0 without cards.</summary>
    public required long EndMicroseconds { get; init; }

    /// <summary>When recording ended.</summary>
    public required long WrapMicroseconds { get; init; }

    /// <summary>Work brought to the stations ÷ what they can do between the first take and wrap.</summary>
    public required double StationLoad { get; init; }

    /// <summary>Whether the stations cannot keep up with such recording at all: load of 1 or more.</summary>
    public bool NeverCatchesUp => StationLoad >= 1;

    /// <summary>Whether cards queue late at such a load: above 70 %.</summary>
    public bool QueuesLate => StationLoad > 0.7;

    /// <summary>The longest wait for a station.</summary>
    public long LongestWaitMicroseconds => Runs.Count == 0 ? 0 : Runs.Max(r => r.WaitMicroseconds);

    /// <summary>Time between wrap and the last card done; negative where it was done before.</summary>
    public long AfterWrapMicroseconds => EndMicroseconds - WrapMicroseconds;
}
