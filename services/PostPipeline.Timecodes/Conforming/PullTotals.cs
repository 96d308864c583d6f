namespace PostPipeline.Timecodes.Conforming;

/// <summary>What pulling a list of ranges amounts to.</summary>
/// <param name="Files">Different files.</param>
/// <param name="Frames">Frames.</param>
/// <param name="Bytes">Bytes of the files whose size is known.</param>
/// <param name="FilesOfUnknownSize">Files whose size is not known, and that the bytes leave out.</param>
public readonly record struct PullTotals(int Files, long Frames, long Bytes, int FilesOfUnknownSize);
