namespace PostPipeline.Timecodes.Conforming;

/// <summary>A place where one event of a track does not begin where the one before it ended.</summary>
/// <param name="Before">Place of the earlier event in the cut, from 0.</param>
/// <param name="After">Place of the later event.</param>
/// <param name="Frames">Frames of black between them; negative where they overlap.</param>
public readonly record struct RecordGap(int Before, int After, long Frames);
