using PostPipeline.Quantities.Randomness;
using PostPipeline.RenderTimes.Intervals;
using Xunit;

namespace PostPipeline.Domain.Tests.RenderTimes;

/// <summary>Derived examples: what a few rows of a new family teach about its other rows.</summary>
public class FamilyShiftTests
{
    [Fact]
    public void At_ErrorsAreShared_MovesAllSettings()
    {
        FamilyErrors errors = Simulate(families: 200, shared: 0.3, own: 0.01, other: 0);
        FamilyShift shift = errors.Condition([0], [0.3]);
        Assert.InRange(shift.At(0), 0.29, 0.3);
        Assert.InRange(shift.At(5), 0.28, 0.31);

        // A setting that nobody measured moves as well, by what families share.
        Assert.InRange(shift.At(-1), 0.28, 0.31);
        Assert.True(shift.Deviation(5) < 0.05);
        Assert.InRange(errors.Condition([], []).Deviation(5), 0.25, 0.36);
    }

    [Fact]
    public void At_TwoKindsOfSettings_MovesOnlyTheKindThatWasMeasured()
    {
        // Settings 0 to 4 share one effect, 5 to 9 another.
        FamilyErrors errors = Simulate(families: 400, shared: 0, own: 0.01, other: 0.3);
        FamilyShift shift = errors.Condition([0], [0.3]);
        Assert.InRange(shift.At(3), 0.25, 0.31);
        Assert.InRange(shift.At(8), -0.06, 0.06);
        Assert.True(shift.Deviation(3) < 0.1);
        Assert.True(shift.Deviation(8) > 0.25);
    }

    // Half of the families keep the sign of their first setting's error at the second, half turn it where the error is large:
    // over all of them both kinds cancel, and only families that were as far off can tell. Derived: y = x for |x| < 0.2, else
    // y = −x, x normal of deviation 0.2.
    [Fact]
    public void At_LoudFamiliesDiffer_LearnsFromThoseAsLoud()
    {
        double[][] residuals = new double[600][];
        for (int f = 0; f < residuals.Length; f++)
        {
            RandomStream random = new(31, RandomPurpose.General, f);
            double x = 0.2 * random.NextNormal();
            double also = x + (0.01 * random.NextNormal());
            residuals[f] = [x, also, (Math.Abs(x) < 0.2 ? x : -x) + (0.01 * random.NextNormal())];
        }

        FamilyErrors errors = new(residuals, 0.0001);
        double loud = errors.Condition([0, 1], [0.5, 0.5]).At(2);
        double quiet = errors.Condition([0, 1], [0.05, 0.05]).At(2);
        Assert.InRange(loud, -0.5, -0.3);
        Assert.True(quiet / 0.05 > loud / 0.5 + 0.3, $"{quiet} and {loud}");
    }

    [Fact]
    public void Condition_NoRows_MovesNothing()
    {
        FamilyShift shift = Simulate(60, 0.2, 0.05, 0).Condition([], []);
        Assert.Equal(0, shift.At(3));
    }

    // The band after conditioning keeps its promise on new families: 4,000 rows of families never seen.
    [Theory]
    [InlineData(0)]
    [InlineData(2)]
    public void Width_NewFamilies_CoverNinetyPercent(int ownRows)
    {
        FamilyErrors calibration = Simulate(families: 60, shared: 0.25, own: 0.08, other: 0.1);
        double[][] unseen = Simulate(families: 800, shared: 0.25, own: 0.08, other: 0.1, seed: 99).Residuals;
        int[] observed = [.. Enumerable.Range(1, ownRows)];
        int covered = 0;
        int asked = 0;
        foreach (double[] family in unseen)
        {
            FamilyShift shift = calibration.Condition(observed, [.. observed.Select(s => family[s])]);
            for (int s = 4; s < 9; s++)
            {
                asked++;
                covered += Math.Abs(family[s] - shift.At(s)) <= shift.Width(0.9)!.Value * shift.Deviation(s) ? 1 : 0;
            }

            if (ownRows > 0 && asked >= 1_000)
            {
                break;
            }
        }

        // Rows of a family are alike, so the number of families bounds the error: four standard errors over them.
        double families = asked / 5.0;
        Assert.InRange(covered / (double)asked, 0.9 - (4 * 0.3 / Math.Sqrt(families)), 0.9 + (4 * 0.3 / Math.Sqrt(families)));
    }

    [Fact]
    public void Width_EightFamilies_IsRefusedAtNinetyPercent()
    {
        FamilyShift shift = Simulate(8, 0.2, 0.05, 0).Condition([], []);
        Assert.Null(shift.Width(0.9));
        Assert.NotNull(shift.Width(0.8));
    }

    // What clips share does not average out: the total's errors stay as large as the families' effects. What they do
    // not share does: ten equal parts shrink it by √10.
    [Fact]
    public void TotalErrors_SharedAgainstOwn_OnlyOwnErrorsAverageOut()
    {
        (int, double)[] mix = [.. Enumerable.Range(0, 10).Select(s => (s, 0.1))];
        double shared = Spread(Simulate(400, 0.2, 0.001, 0).Condition([], []).TotalErrors(mix));
        double own = Spread(Simulate(400, 0.0, 0.2, 0).Condition([], []).TotalErrors(mix));
        Assert.InRange(shared, 0.18, 0.22);
        Assert.InRange(own, 0.2 / Math.Sqrt(10) * 0.85, 0.2 / Math.Sqrt(10) * 1.2);
    }

    private static double Spread(double[] values) => Math.Sqrt(values.Average(v => v * v));

    private static FamilyErrors Simulate(int families, double shared, double own, double other, long seed = 5)
    {
        double[][] residuals = new double[families][];
        for (int f = 0; f < families; f++)
        {
            RandomStream random = new(seed, RandomPurpose.General, f);
            double all = shared * random.NextNormal();
            double[] kinds = [other * random.NextNormal(), other * random.NextNormal()];
            residuals[f] = new double[10];
            for (int s = 0; s < 10; s++)
            {
                residuals[f][s] = all + kinds[s / 5] + (own * random.NextNormal());
            }
        }

        return new(residuals, 0.0001);
    }
}
