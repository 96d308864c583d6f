namespace PostPipeline.Studies.Sensitivities;

/// <summary>An output's mean and variance, and how its inputs share the variance.</summary>
/// <param name="Mean">The mean of the output.</param>
/// <param name="MeanHalfWidth">Half the width of its confidence interval.</param>
/// <param name="Variance">The variance of the output, in the square of its unit.</param>
/// <param name="VarianceHalfWidth">Half the width of its confidence interval.</param>
/// <param name="Indices">A group each, in the order asked for or by size as the maker says.</param>
public sealed record SobolEstimate(double Mean, double MeanHalfWidth, double Variance, double VarianceHalfWidth, IReadOnlyList<SobolIndex> Indices);
