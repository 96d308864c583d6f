namespace PostPipeline.Timecodes;

/// <summary>A label in two steps: the super-frame's, and the frame inside it.</summary>
/// <param name="SuperFrame">The label that counts super-frames.</param>
/// <param name="SubFrame">The frame inside the super-frame, counted from 0.</param>
public readonly record struct SuperFrameLabel(Timecode SuperFrame, int SubFrame)
{
    /// <summary><c>01:00:00:05.3</c>.</summary>
    public override string ToString() => $"{SuperFrame}.{SubFrame}";
}
