namespace PostPipeline.Notebooks.Runs;

/// <summary>How a notebook is run.</summary>
/// <param name="Values">Parameter values asked for, by name.</param>
/// <param name="Timeout">How long one cell may take before the run is ended.</param>
/// <param name="Progress">Told of every cell that starts: its number from 1, and how many there are.</param>
public sealed record RunOptions(IReadOnlyDictionary<string, string> Values, TimeSpan Timeout, Action<int, int>? Progress = null)
{
    /// <summary>The notebook's own values, ten minutes a cell.</summary>
    public static RunOptions Default { get; } = new(new Dictionary<string, string>(), TimeSpan.FromMinutes(10));
}
