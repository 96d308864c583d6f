namespace PostPipeline.RenderTimes.Regression;

/// <summary>A fitted linear model.</summary>
/// <param name="Coefficients">The constant first where the model has one, then one coefficient a column.</param>
/// <param name="StandardErrors">The standard error of each coefficient, in the same order.</param>
/// <param name="ResidualDeviation">√(Σ residual² ÷ degrees of freedom); not a number where no freedom is left.</param>
/// <param name="Residuals">Observed less fitted, by row.</param>
/// <param name="HasIntercept">Whether the first coefficient is a constant.</param>
public sealed record LeastSquaresFit(
    IReadOnlyList<double> Coefficients,
    IReadOnlyList<double> StandardErrors,
    double ResidualDeviation,
    IReadOnlyList<double> Residuals,
    bool HasIntercept);
