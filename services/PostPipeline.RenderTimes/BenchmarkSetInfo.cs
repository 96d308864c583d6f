namespace PostPipeline.RenderTimes;

/// <summary>What is known of a stored set without reading its rows.</summary>
/// <param name="Id">The content hash, 64 hexadecimal digits.</param>
/// <param name="Name">A name for people.</param>
/// <param name="Invented">Whether the rows are invented.</param>
/// <param name="Schema">What the columns are for.</param>
/// <param name="Rows">Rows in the set.</param>
/// <param name="Families">Families in the set.</param>
public sealed record BenchmarkSetInfo(string Id, string Name, bool Invented, TableSchema Schema, long Rows, int Families);
