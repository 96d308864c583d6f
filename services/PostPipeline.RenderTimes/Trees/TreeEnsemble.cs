using System.Collections.Immutable;

namespace PostPipeline.RenderTimes.Trees;

/// <summary>
/// Boosted regression trees as flat lists: immutable, safe on any number of threads and the same numbers
/// wherever they are read back, which a prediction engine shared between threads is not.
/// </summary>
/// <param name="Bias">What is added to the sum of the trees.</param>
/// <param name="Trees">The trees.</param>
internal sealed record TreeEnsemble(double Bias, ImmutableArray<FlatTree> Trees)
{
    /// <summary>The prediction for one row.</summary>
    /// <param name="features">As many features as in training.</param>
    public double Predict(ReadOnlySpan<float> features)
    {
        double sum = Bias;
        foreach (FlatTree tree in Trees)
        {
            sum += tree.Predict(features);
        }

        return sum;
    }
}

/// <summary>One tree. A child ≥ 0 is a node, a child &lt; 0 is the leaf ~child.</summary>
/// <param name="Feature">The feature asked at each node.</param>
/// <param name="Threshold">At most this goes left.</param>
/// <param name="Left">Left child of each node.</param>
/// <param name="Right">Right child of each node.</param>
/// <param name="Leaves">The values of the leaves, weight of the tree included.</param>
internal sealed record FlatTree(int[] Feature, float[] Threshold, int[] Left, int[] Right, double[] Leaves)
{
    public double Predict(ReadOnlySpan<float> features)
    {
        int node = Feature.Length == 0 ? ~0 : 0;
        while (node >= 0)
        {
            node = features[Feature[node]] <= Threshold[node] ? Left[node] : Right[node];
        }

        return Leaves[~node];
    }
}
