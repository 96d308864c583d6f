using PostPipeline.Quantities.Randomness;
using PostPipeline.RenderTimes.Trees;
using Xunit;

namespace PostPipeline.Domain.Tests.RenderTimes;

public class BoostedTreesTests
{
    private static readonly TreeOptions Options = new(40, 8, 0.1, 5, 0.8);

    // Outside: ML.NET's own transformer on the same model; our reading of its trees gives the same scores to a float's digits.
    [Fact]
    public void Fit_ReadOutTrees_PredictAsTheLibraryDoes()
    {
        (float[][] rows, float[] labels) = Data();
        TreeEnsemble ours = BoostedTrees.Fit(rows, labels, Options, 7);
        float[] theirs = BoostedTrees.FitAndTransform(rows, labels, Options, 7);
        for (int i = 0; i < rows.Length; i++)
        {
            Assert.Equal(theirs[i], ours.Predict(rows[i]), 1e-5);
        }
    }

    [Fact]
    public void Fit_SameSeed_SameTrees()
    {
        (float[][] rows, float[] labels) = Data();
        TreeEnsemble first = BoostedTrees.Fit(rows, labels, Options, 7);
        TreeEnsemble second = BoostedTrees.Fit(rows, labels, Options, 7);
        Assert.All(rows, r => Assert.Equal(first.Predict(r), second.Predict(r)));
    }

    private static (float[][] Rows, float[] Labels) Data()
    {
        RandomStream random = new(1, RandomPurpose.General);
        float[][] rows = new float[400][];
        float[] labels = new float[400];
        for (int i = 0; i < rows.Length; i++)
        {
            float x = (float)random.NextNormal();
            float y = (float)random.NextUnit();
            float z = i % 2;
            rows[i] = [x, y, z];
            labels[i] = (x > 0 ? 2 : -1) + (3 * y * z) + (0.1f * (float)random.NextNormal());
        }

        return (rows, labels);
    }
}
