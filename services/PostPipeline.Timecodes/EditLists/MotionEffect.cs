using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.EditLists;

/// <summary>A motion line (M2): the speed of a source in frames per second and the label at which it is entered.</summary>
/// <param name="Reel">The reel that the line names; empty where it names none.</param>
/// <param name="SourceFramesPerSecond">Source frames per second of the record side; negative runs in reverse, 0 holds one frame.</param>
/// <param name="Entry">The source label at which the motion begins; null where the line gives none.</param>
public sealed record MotionEffect(string Reel, Rational SourceFramesPerSecond, EditLabel? Entry)
{
    /// <summary>Whether one frame is held.</summary>
    public bool IsFreeze => SourceFramesPerSecond.Sign == 0;

    /// <summary>Whether the source runs backwards.</summary>
    public bool IsReverse => SourceFramesPerSecond.Sign < 0;

    /// <summary>Source frames per record frame, exact.</summary>
    /// <param name="recordRate">The frame rate of the record side.</param>
    public Rational SpeedAt(FrameRate recordRate) => SourceFramesPerSecond / recordRate.FramesPerSecond;
}
