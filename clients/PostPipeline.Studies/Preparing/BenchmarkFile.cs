namespace PostPipeline.Studies.Preparing;

/// <summary>Benchmark rows read from a CSV file, to be imported.</summary>
/// <param name="Name">What to call the set.</param>
/// <param name="Columns">Column names.</param>
/// <param name="Rows">Cells by row, as many as there are columns.</param>
/// <param name="Invented">Whether the rows are invented.</param>
public sealed record BenchmarkFile(string Name, IReadOnlyList<string> Columns, IReadOnlyList<IReadOnlyList<string>> Rows, bool Invented);
