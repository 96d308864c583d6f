using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.Inventories;

/// <summary>How a recorder cuts a take into files of limited size: at whole frames.</summary>
/// <param name="FramesPerChunk">Frames in every file but the last.</param>
/// <param name="Chunks">Files, rounded up.</param>
/// <param name="FramesInLastChunk">Frames in the last file.</param>
public readonly record struct ChunkPlan(long FramesPerChunk, long Chunks, long FramesInLastChunk)
{
    /// <summary>The largest file of FAT32: 2³² − 1 bytes.</summary>
    public const long Fat32MaximumBytes = (1L << 32) - 1;

    /// <summary>Cuts a take.</summary>
    /// <param name="frames">Frames of the take. 1 to 1,000,000,000.</param>
    /// <param name="bytesPerFrame">Bytes of every frame. 1 or more.</param>
    /// <param name="maximumFileBytes">The largest file. At least one frame.</param>
    /// <param name="framesPerGroup">Frames that must stay together, 1 or more.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value lies outside its range, or a group does not fit a file.</exception>
    public static ChunkPlan For(long frames, long bytesPerFrame, long maximumFileBytes, long framesPerGroup = 1)
    {
        Guard.InRange(frames, 1, Clip.MaximumFrames);
        Guard.InRange(bytesPerFrame, 1, long.MaxValue);
        Guard.InRange(framesPerGroup, 1, Clip.MaximumFrames);
        long perFile = maximumFileBytes / bytesPerFrame / framesPerGroup * framesPerGroup;
        if (perFile < 1)
        {
            throw new ArgumentOutOfRangeException(
                nameof(maximumFileBytes), maximumFileBytes, $"A file of {maximumFileBytes} B does not hold {framesPerGroup} frames of {bytesPerFrame} B.");
        }

        long chunks = (frames + perFile - 1) / perFile;
        return new(perFile, chunks, frames - ((chunks - 1) * perFile));
    }
}
