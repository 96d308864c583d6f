using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.Generators;

/// <summary>
/// The files of one take that was cut at a file-size limit: frames add up, each start is the last start plus the last
/// frame count, and cuts fall on whole frames. Common practice, no source.
/// </summary>
public static class TakeChunks
{
    /// <summary>The most frames of constant size that a file of limited size holds.</summary>
    /// <param name="limitBytes">The largest file, for example 2³²−1 bytes on FAT32.</param>
    /// <param name="bytesPerFrame">Bytes of one frame, 1 up to the limit.</param>
    public static long FramesPerChunk(long limitBytes, long bytesPerFrame) => limitBytes / Guard.InRange(bytesPerFrame, 1, limitBytes);

    /// <summary>Cuts a take into chunks.</summary>
    /// <param name="take">The labels of the take.</param>
    /// <param name="framesPerChunk">Frames in every chunk but the last, 1 or more.</param>
    public static IEnumerable<TimecodeRange> Split(TimecodeRange take, long framesPerChunk)
    {
        Guard.InRange(framesPerChunk, 1, long.MaxValue);
        for (long offset = 0; offset < take.FrameCount; offset += framesPerChunk)
        {
            yield return take.Slice(offset, Math.Min(framesPerChunk, take.FrameCount - offset));
            if (framesPerChunk >= take.FrameCount)
            {
                yield break;
            }
        }
    }
}
