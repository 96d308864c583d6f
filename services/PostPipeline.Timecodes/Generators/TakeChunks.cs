using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.Generators;

/// <summary>
/// The files of one take that was cut at a file-size limit: frames add up, each start is the last start plus the last
/// frame count, and cuts fall on whole frames. Common practice, no source.
/// </summary>
public static class TakeChunks
{
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
