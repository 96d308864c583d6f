namespace PostPipeline.Studies.Sensitivities;

/// <summary>How much of an output's variance an input explains.</summary>
/// <param name="Name">The input, or a group of inputs that move together.</param>
/// <param name="First">The share that it explains alone.</param>
/// <param name="FirstHalfWidth">Half the width of its confidence interval.</param>
/// <param name="Total">The share that it has a part in.</param>
/// <param name="TotalHalfWidth">Half the width of its confidence interval.</param>
public sealed record SobolIndex(string Name, double First, double FirstHalfWidth, double Total, double TotalHalfWidth);
