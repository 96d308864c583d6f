namespace PostPipeline.Footage.Recordings;

/// <summary>One file of a take.</summary>
/// <param name="Index">Place in the take, from 0.</param>
/// <param name="StartFrame">First frame, from the start of the take.</param>
/// <param name="Frames">Frames in the file.</param>
public readonly record struct Chunk(int Index, long StartFrame, long Frames)
{
    /// <summary>The first frame after the file: where the next one starts.</summary>
    public long EndFrame => StartFrame + Frames;
}
