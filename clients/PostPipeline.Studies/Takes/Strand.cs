using PostPipeline.Studies.Briefs;

namespace PostPipeline.Studies.Takes;

/// <summary>
/// What one camera records in one mode over the shoot, by day, at the planned hours. A draw scales a strand as a whole
/// by its drawn hours over the planned ones.
/// </summary>
public sealed class Strand
{
    /// <summary>Sums takes up into a strand.</summary>
    /// <param name="camera">Place of the camera.</param>
    /// <param name="unit">Place of its unit.</param>
    /// <param name="recording">The recording.</param>
    /// <param name="days">Shoot days.</param>
    /// <param name="bytesPerFrame">Average bytes of a frame.</param>
    /// <param name="takes">The takes of this camera and recording.</param>
    public Strand(int camera, int unit, Recording recording, int days, long bytesPerFrame, IEnumerable<PlannedTake> takes)
    {
        (Camera, Unit, Recording, BytesPerFrame) = (camera, unit, recording, bytesPerFrame);
        Bytes = new long[days];
        Frames = new long[days];
        Seconds = new double[days];
        foreach (PlannedTake take in takes)
        {
            Frames[take.Day] += take.Frames;
            Bytes[take.Day] = checked(Bytes[take.Day] + (take.Frames * bytesPerFrame));
            Seconds[take.Day] += take.RecordedSeconds;
            Takes++;
        }

        TotalBytes = Bytes.Sum();
        TotalFrames = Frames.Sum();
        TotalSeconds = Seconds.Sum();
    }

    /// <summary>Place of the camera in the brief.</summary>
    public int Camera { get; }

    /// <summary>Place of the unit in the brief.</summary>
    public int Unit { get; }

    /// <summary>What is recorded.</summary>
    public Recording Recording { get; }

    /// <summary>Average bytes of a frame.</summary>
    public long BytesPerFrame { get; }

    /// <summary>Takes over the shoot.</summary>
    public int Takes { get; private set; }

    /// <summary>Bytes by shoot day.</summary>
    public long[] Bytes { get; }

    /// <summary>Frames by shoot day.</summary>
    public long[] Frames { get; }

    /// <summary>Recorded seconds by shoot day.</summary>
    public double[] Seconds { get; }

    /// <summary>Bytes over the shoot.</summary>
    public long TotalBytes { get; }

    /// <summary>Frames over the shoot.</summary>
    public long TotalFrames { get; }

    /// <summary>Recorded seconds over the shoot.</summary>
    public double TotalSeconds { get; }
}
