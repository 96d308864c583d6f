namespace PostPipeline.Studies.Benchmarks;

/// <summary>A comma-separated text that cannot be read.</summary>
/// <param name="line">The line, from 1.</param>
/// <param name="problem">What is wrong.</param>
public sealed class CsvFormatException(long line, string problem) : Exception($"line {line}: {problem}")
{
    /// <summary>The line, from 1.</summary>
    public long Line { get; } = line;

    /// <summary>What is wrong, without the line.</summary>
    public string Problem { get; } = problem;
}
