namespace PostPipeline.Studies.Stages;

/// <summary>How much of the originals a cut needs.</summary>
public static class Pull
{
    // Invented: where nothing can be trimmed, whole clips are pulled, this share of everything recorded (5–25 % is common practice, no source).
    private const double WholeClips = 0.15;

    /// <summary>Frames of a trimmed pull: the cut and handles on both sides of each event, nothing merged.</summary>
    /// <param name="finishedFrames">Frames of the cut, all conformed tracks together.</param>
    /// <param name="events">Events.</param>
    /// <param name="handles">Frames kept on either side.</param>
    public static double Frames(double finishedFrames, double events, int handles) => finishedFrames + (2 * handles * events);

    /// <summary>Bytes of a pull; never more than was recorded.</summary>
    /// <param name="finishedFrames">Frames of the cut.</param>
    /// <param name="events">Events.</param>
    /// <param name="handles">Frames kept on either side.</param>
    /// <param name="bytesPerFrame">Average bytes of an original's frame.</param>
    /// <param name="trimmable">Whether ranges can be cut out without a new encode.</param>
    /// <param name="recordedBytes">All bytes recorded.</param>
    public static double Bytes(double finishedFrames, double events, int handles, double bytesPerFrame, bool trimmable, double recordedBytes) =>
        Math.Min(recordedBytes, trimmable ? Frames(finishedFrames, events, handles) * bytesPerFrame : WholeClips * recordedBytes);
}
