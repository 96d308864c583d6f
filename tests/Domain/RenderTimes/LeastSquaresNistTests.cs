using PostPipeline.RenderTimes.Regression;
using Xunit;
using Xunit.Abstractions;

namespace PostPipeline.Domain.Tests.RenderTimes;

/// <summary>
/// Published values: NIST Statistical Reference Datasets, linear regression, certified values. The digits that
/// R 4.2.2 lm reaches on the same files stand beside ours in docs/validation.md.
/// </summary>
public class LeastSquaresNistTests(ITestOutputHelper output)
{
    // Digits required per file: 13, and 11 where NIST itself grades the problem as one of large residuals.
    [SkippableTheory]
    [InlineData("Norris", 1, 13)]
    [InlineData("Pontius", 2, 13)]
    [InlineData("NoInt1", 1, 13)]
    [InlineData("NoInt2", 1, 13)]
    [InlineData("Longley", 0, 13)]
    [InlineData("Wampler1", 5, 13)]
    [InlineData("Wampler2", 5, 13)]
    [InlineData("Wampler3", 5, 13)]
    [InlineData("Wampler4", 5, 11)]
    [InlineData("Wampler5", 5, 11)]
    public void Fit_NistReferenceData_ReachesCertifiedDigits(string name, int degree, double required)
    {
        (LeastSquaresFit fit, NistReference.NistFile file) = NistReference.Fit(name, degree);
        double digits = NistReference.Digits(fit.Coefficients, file.Coefficients);
        double errors = NistReference.Digits(fit.StandardErrors, file.Deviations);
        output.WriteLine($"{name}: {digits:F1} digits in the coefficients, {errors:F1} in their standard errors");
        Assert.True(digits >= required, $"{name}: {digits:F2} digits, required {required}");
    }

    [SkippableFact]
    public void Fit_Filip_IsReported()
    {
        // NIST grades Filip as the hardest: degree 10 on a narrow range, where rounding the powers of x to
        // doubles already costs digits. No number is promised; half of them must be right.
        (LeastSquaresFit fit, NistReference.NistFile file) = NistReference.Fit("Filip", 10);
        double digits = NistReference.Digits(fit.Coefficients, file.Coefficients);
        output.WriteLine($"Filip: {digits:F1} digits");
        Assert.True(digits >= 7, $"Filip: {digits:F2} digits");
    }
}
