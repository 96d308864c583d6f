namespace PostPipeline.Timecodes.Inventories;

/// <summary>One file of a take.</summary>
/// <param name="Row">Its row in the inventory.</param>
/// <param name="Number">Which file it is, from 1.</param>
/// <param name="Offset">Frames from the take's first frame to the file's.</param>
/// <param name="Frames">Frames in the file.</param>
public readonly record struct TakeChunk(int Row, int Number, long Offset, long Frames);
