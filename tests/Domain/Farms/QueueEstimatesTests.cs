using PostPipeline.Quantities.Randomness;
using Xunit;

namespace PostPipeline.Domain.Tests.Farms;

/// <summary>The interval that judges the queues, itself judged where the answer is known.</summary>
public class QueueEstimatesTests
{
    // Derived: 10 replications of mean 5.5 and deviation √(82.5/9); Student's t at 97.5 % with 9 degrees of freedom is 2.262
    // (Abramowitz and Stegun, table 26.10).
    [Fact]
    public void Interval_WithoutControls_IsStudents()
    {
        (double mean, double half) = QueueEstimates.Interval([1, 2, 3, 4, 5, 6, 7, 8, 9, 10], 0.95);
        Assert.Equal(5.5, mean, 1e-12);
        Assert.Equal(2.262 * Math.Sqrt(82.5 / 9 / 10), half, 2e-3);
    }

    // Derived: what controls of expectation 0 explain wholly leaves the intercept, and nothing to doubt.
    [Fact]
    public void Interval_ControlsExplainEverything_IsTheIntercept()
    {
        double[][] controls = [.. Enumerable.Range(0, 12).Select(i => new[] { Math.Sin(i), Math.Cos(3 * i), 7.0 })];
        (double mean, double half) = QueueEstimates.Interval([.. controls.Select(c => 3 + (2 * c[0]) - (5 * c[1]))], controls, 0.95);
        Assert.Equal(3, mean, 1e-9);
        Assert.InRange(half, 0, 1e-9);
    }

    // 400 made-up trials: the 95 % interval holds the truth as often as it says, give or take four standard errors (4.4 %), and
    // half of the variance explained makes it √½ as wide.
    [Fact]
    public void Interval_NormalReplications_CoversAsOftenAsItSays()
    {
        int covered = 0;
        double ratio = 0;
        for (int trial = 0; trial < 400; trial++)
        {
            RandomStream random = new(5, RandomPurpose.Durations, trial);
            double[][] controls = new double[60][];
            double[] values = new double[60];
            for (int r = 0; r < values.Length; r++)
            {
                controls[r] = [random.NextNormal(), random.NextNormal()];
                values[r] = 10 + controls[r][0] + random.NextNormal();
            }

            (double mean, double half) = QueueEstimates.Interval(values, controls, 0.95);
            covered += Math.Abs(mean - 10) <= half ? 1 : 0;
            ratio += half / QueueEstimates.Interval(values, 0.95).HalfWidth / 400;
        }

        Assert.InRange(covered / 400.0, 0.906, 0.994);
        Assert.InRange(ratio, 0.69, 0.76);
    }
}
