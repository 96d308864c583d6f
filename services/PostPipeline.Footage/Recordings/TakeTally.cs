using PostPipeline.Quantities;

namespace PostPipeline.Footage.Recordings;

/// <summary>What a day's takes add up to, for the report that goes with the cards.</summary>
public sealed record TakeTally
{
    private TakeTally()
    {
    }

    /// <summary>Takes.</summary>
    public required int Takes { get; init; }

    /// <summary>Files.</summary>
    public required long Files { get; init; }

    /// <summary>Frames.</summary>
    public required long Frames { get; init; }

    /// <summary>Bytes, containers included.</summary>
    public required DataSize Bytes { get; init; }

    /// <summary>Frames of the longest take.</summary>
    public required long LongestFrames { get; init; }

    /// <summary>Adds up takes of one mode.</summary>
    /// <param name="takeFrames">Frames of each take.</param>
    /// <param name="averageFrameBytes">Bytes a frame on average.</param>
    /// <param name="peakFrameBytes">Bytes of the largest frame.</param>
    /// <param name="limit">The largest file.</param>
    /// <param name="bytesPerFile">What the container adds to each file.</param>
    public static TakeTally Of(IReadOnlyList<long> takeFrames, long averageFrameBytes, long peakFrameBytes, ChunkLimit limit, long bytesPerFile = 0)
    {
        long files = 0;
        long frames = 0;
        foreach (long take in takeFrames)
        {
            files += ChunkedTake.Cut(take, peakFrameBytes, limit, bytesPerFile).Count;
            frames = checked(frames + take);
        }

        return new()
        {
            Takes = takeFrames.Count,
            Files = files,
            Frames = frames,
            Bytes = DataSize.FromBytes(((Int128)frames * averageFrameBytes) + ((Int128)files * bytesPerFile)),
            LongestFrames = takeFrames.Count == 0 ? 0 : takeFrames.Max(),
        };
    }
}
