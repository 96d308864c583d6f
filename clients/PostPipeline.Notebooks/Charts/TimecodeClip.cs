namespace PostPipeline.Notebooks.Charts;

/// <summary>A clip laid out on its labels.</summary>
/// <param name="Lane">The camera or reel whose row it stands on.</param>
/// <param name="Name">The clip.</param>
/// <param name="FirstFrame">The frame number of its first label.</param>
/// <param name="FrameCount">How many labels it uses.</param>
/// <param name="FirstLabel">The first label as text.</param>
/// <param name="EndLabel">The label after the last, as text.</param>
public sealed record TimecodeClip(string Lane, string Name, long FirstFrame, long FrameCount, string FirstLabel, string EndLabel);
