using PostPipeline.RenderTimes.Regression;
using PostPipeline.RenderTimes.Trees;

namespace PostPipeline.RenderTimes.Predictors;

/// <summary>
/// The logarithm of seconds per frame as a linear part, boosted trees, or the sum of both. The linear part
/// extrapolates (on pixels, on cores) where trees can only repeat their outermost leaf.
/// </summary>
/// <param name="Linear">The linear part; null where there is none.</param>
/// <param name="Trees">The trees, on the linear part's residuals where there is one; null where there are none.</param>
internal sealed record AdditivePredictor(RidgeRegression? Linear, TreeEnsemble? Trees)
{
    /// <summary>Fits a kind of predictor.</summary>
    /// <param name="kind">Which parts it has.</param>
    /// <param name="rows">Encoded rows.</param>
    /// <param name="response">Logarithms of seconds per frame.</param>
    /// <param name="weights">The weight of each row in the linear part.</param>
    /// <param name="seed">Seed of the trees.</param>
    /// <param name="cancellation">Ends the work between fits.</param>
    public static AdditivePredictor Fit(
        PredictorKind kind, double[][] rows, double[] response, double[] weights, int seed, CancellationToken cancellation)
    {
        RidgeRegression? linear = kind.Penalty is double penalty
            ? RidgeRegression.Fit(rows, response, weights, penalty, cancellation)
            : null;
        cancellation.ThrowIfCancellationRequested();
        if (kind.Trees is not TreeOptions options)
        {
            return new(linear, null);
        }

        float[] residual = [.. response.Select((y, i) => (float)(y - (linear?.Predict(rows[i]) ?? 0)))];
        return new(linear, BoostedTrees.Fit([.. rows.Select(ToSingle)], residual, options, seed));
    }

    /// <summary>The logarithm of seconds per frame.</summary>
    /// <param name="row">An encoded row.</param>
    public double Predict(double[] row) => (Linear?.Predict(row) ?? 0) + (Trees?.Predict(ToSingle(row)) ?? 0);

    private static float[] ToSingle(double[] row) => Array.ConvertAll(row, v => (float)v);
}
