using PostPipeline.Quantities;

namespace PostPipeline.Timecodes;

/// <summary>A label at another rate, and how far rounding to a whole frame moved it.</summary>
/// <param name="Label">The label in the new format.</param>
/// <param name="FramesFromAnchor">Whole frames from the new anchor; more than a day where the labels wrapped.</param>
/// <param name="RoundingSeconds">Start of the chosen frame less the exact instant, in seconds; 0 where the rates meet, and always by frame count.</param>
public readonly record struct ConvertedLabel(Timecode Label, long FramesFromAnchor, Rational RoundingSeconds);
