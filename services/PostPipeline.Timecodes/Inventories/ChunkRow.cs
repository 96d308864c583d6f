namespace PostPipeline.Timecodes.Inventories;

/// <summary>What a row said about its place in a take.</summary>
internal readonly record struct ChunkRow(int Row, string Take, int Number, int Expected);
