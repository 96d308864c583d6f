using PostPipeline.Quantities;

namespace PostPipeline.Footage.Recordings;

/// <summary>The tree behind takes cut into files.</summary>
public static class TakeExplanation
{
    /// <summary>Explains the bytes of takes.</summary>
    /// <param name="tally">What they add up to.</param>
    /// <param name="averageFrameBytes">Bytes a frame on average.</param>
    /// <param name="peakFrameBytes">Bytes of the largest frame.</param>
    /// <param name="limit">The largest file.</param>
    /// <param name="bytesPerFile">What the container adds to each file.</param>
    public static Derivation Of(TakeTally tally, long averageFrameBytes, long peakFrameBytes, ChunkLimit limit, long bytesPerFile)
    {
        Derivation files = new()
        {
            Name = "files",
            Formula = "sum over takes of ⌈frames ÷ frames a file⌉, frames a file = ⌊(limit − container) ÷ largest frame⌋ on a group border",
            Substituted = $"⌊({limit.Bytes} − {bytesPerFile}) ÷ {peakFrameBytes}⌋ = {(limit.Bytes - bytesPerFile) / peakFrameBytes / limit.FramesPerGroup * limit.FramesPerGroup} frames a file",
            Value = tally.Files.ToString(),
            BindingLimit = "largest file",
            NextLimit = "length of the takes",
            Source = "common practice, no source",
            Inputs = [Derivation.Input("limit", limit.Bytes.ToString(), "B"), Derivation.Input("largest frame", peakFrameBytes.ToString(), "B"), Derivation.Input("frames of a group", limit.FramesPerGroup.ToString())],
        };
        return new()
        {
            Name = "bytes of all takes",
            Formula = "frames × bytes a frame + files × container",
            Substituted = $"{tally.Frames} × {averageFrameBytes} + {tally.Files} × {bytesPerFile}",
            Value = tally.Bytes.Bytes.ToString(),
            Unit = "B",
            Inputs = [Derivation.Input("frames", tally.Frames.ToString()), Derivation.Input("bytes a frame", averageFrameBytes.ToString(), "B"), files],
        };
    }
}
