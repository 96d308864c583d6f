namespace PostPipeline.Notebooks.Charts;

/// <summary>One pipeline between two answers, each with its range.</summary>
/// <param name="Name">The pipeline.</param>
/// <param name="X">P50 of the first answer.</param>
/// <param name="LowX">P10 of the first answer.</param>
/// <param name="HighX">P90 of the first answer.</param>
/// <param name="Y">P50 of the second answer.</param>
/// <param name="LowY">P10 of the second answer.</param>
/// <param name="HighY">P90 of the second answer.</param>
/// <param name="Admissible">False draws it hollow.</param>
public sealed record TradeOffPoint(string Name, double X, double LowX, double HighX, double Y, double LowY, double HighY, bool Admissible = true);
