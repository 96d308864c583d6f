namespace PostPipeline.Timecodes.Conforming;

/// <summary>A range of one file that a cut needs.</summary>
/// <param name="Row">The file's row in the inventory.</param>
/// <param name="Frames">The frames, counted from the file's first.</param>
/// <param name="IsWholeFile">Whether the file is pulled whole because it cannot be trimmed, or nobody knows that it can.</param>
/// <param name="Bytes">Bytes to copy, rounded up; null where the size of the file is unknown.</param>
/// <param name="Events">How many events use it.</param>
public readonly record struct PullRange(int Row, SourceSpan Frames, bool IsWholeFile, long? Bytes, int Events);
