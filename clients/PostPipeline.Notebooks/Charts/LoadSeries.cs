namespace PostPipeline.Notebooks.Charts;

/// <summary>What one project takes of something shared.</summary>
/// <param name="Name">The project.</param>
/// <param name="Values">One for each day, in the unit of the panel.</param>
public sealed record LoadSeries(string Name, IReadOnlyList<double> Values);
