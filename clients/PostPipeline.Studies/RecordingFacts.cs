namespace PostPipeline.Studies;

/// <summary>How one camera records one of its modes, from the footage service.</summary>
/// <param name="Camera">Place of the camera.</param>
/// <param name="Recording">Place of the recording.</param>
/// <param name="BytesPerFrame">Average bytes of a frame.</param>
/// <param name="NeededBytesPerSecond">What the mode writes at peak, B/s.</param>
/// <param name="CeilingBytesPerSecond">What the media can be trusted to take, B/s.</param>
/// <param name="Kind">sustained, burst or over-ceiling.</param>
/// <param name="Sustained">Whether it is shown to be sustained: true, false, or null where not shown.</param>
/// <param name="CardSeconds">Recorded time of a full card, s.</param>
/// <param name="BurstSeconds">The burst window, s; 0 where it is not a burst.</param>
/// <param name="BurstFrames">Frames of the window.</param>
/// <param name="ReadyAgainSeconds">From the end of a burst until the camera is ready, s.</param>
public sealed record RecordingFacts(
    int Camera,
    int Recording,
    long BytesPerFrame,
    double NeededBytesPerSecond,
    double CeilingBytesPerSecond,
    string Kind,
    bool? Sustained,
    double CardSeconds,
    double BurstSeconds,
    long BurstFrames,
    double ReadyAgainSeconds);
