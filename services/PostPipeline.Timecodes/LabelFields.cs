namespace PostPipeline.Timecodes;

/// <summary>The four numbers of a label, unchecked: a label only exists in a <see cref="TimecodeFormat"/>.</summary>
/// <param name="Hours">0 to 23 in a label that exists.</param>
/// <param name="Minutes">0 to 59.</param>
/// <param name="Seconds">0 to 59.</param>
/// <param name="Frames">0 up to one less than the nominal rate.</param>
public readonly record struct LabelFields(int Hours, int Minutes, int Seconds, int Frames);
