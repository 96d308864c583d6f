using PostPipeline.Quantities;

namespace PostPipeline.Footage.Recordings;

/// <summary>
/// A take as an ordered set of files, cut on whole frames or group borders. Frames add up, and each file starts
/// where the one before ends; a missing middle file is the classic partial copy.
/// </summary>
public sealed class ChunkedTake
{
    private ChunkedTake(long frames, long framesPerChunk, int count) => (Frames, FramesPerChunk, Count) = (frames, framesPerChunk, count);

    /// <summary>Frames of the take.</summary>
    public long Frames { get; }

    /// <summary>Frames of a full file.</summary>
    public long FramesPerChunk { get; }

    /// <summary>How many files.</summary>
    public int Count { get; }

    /// <summary>Frames of the last file.</summary>
    public long LastFrames => Frames - ((Count - 1) * FramesPerChunk);

    /// <summary>The files in order.</summary>
    public IEnumerable<Chunk> Chunks => Enumerable.Range(0, Count).Select(i => new Chunk(i, i * FramesPerChunk, i == Count - 1 ? LastFrames : FramesPerChunk));

    /// <summary>Cuts a take.</summary>
    /// <param name="frames">1 to 10⁹.</param>
    /// <param name="peakFrameBytes">The largest frame, so that no file passes the limit.</param>
    /// <param name="limit">The largest file.</param>
    /// <param name="bytesPerFile">What the container adds to each file.</param>
    /// <exception cref="ArgumentOutOfRangeException">Not one group of frames fits a file, or there are more than 1,000,000 files.</exception>
    public static ChunkedTake Cut(long frames, long peakFrameBytes, ChunkLimit limit, long bytesPerFile = 0)
    {
        Guard.InRange(frames, 1, 1_000_000_000);
        Guard.InRange(peakFrameBytes, 1, long.MaxValue);
        Guard.InRange(bytesPerFile, 0, 1L << 30);
        long fit = (limit.Bytes - bytesPerFile) / peakFrameBytes / limit.FramesPerGroup * limit.FramesPerGroup;
        if (fit <= 0)
        {
            throw new ArgumentOutOfRangeException(
                nameof(limit), limit.Bytes, $"A file of {limit.Bytes} B does not hold {limit.FramesPerGroup} frame(s) of {peakFrameBytes} B and {bytesPerFile} B of its container.");
        }

        long count = ((frames - 1) / fit) + 1;
        return new(frames, fit, (int)Guard.InRange(count, 1, 1_000_000, "count of files"));
    }

    /// <summary>What is wrong with a set of files that should be one take, or null: order, gaps, overlaps, the sum of frames.</summary>
    /// <param name="present">The files found, in any order.</param>
    /// <param name="reportedFrames">Frames that the camera reports for the take.</param>
    public static string? Incomplete(IEnumerable<Chunk> present, long reportedFrames)
    {
        long next = 0;
        int index = 0;
        foreach (Chunk chunk in present.OrderBy(c => c.StartFrame).ThenBy(c => c.Index))
        {
            if (chunk.StartFrame != next || chunk.Index != index)
            {
                return chunk.StartFrame < next
                    ? $"file {chunk.Index} starts at frame {chunk.StartFrame}, inside the file before it, which ends at {next}"
                    : $"frames {next} to {chunk.StartFrame - 1} are missing before file {chunk.Index}";
            }

            next = chunk.EndFrame;
            index++;
        }

        return next == reportedFrames ? null : $"the files hold {next} frames, the camera reports {reportedFrames}";
    }
}
