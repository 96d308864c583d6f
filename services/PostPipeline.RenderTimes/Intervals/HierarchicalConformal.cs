using PostPipeline.Quantities;

namespace PostPipeline.RenderTimes.Intervals;

/// <summary>
/// Conformal bands for a row of a family never seen. Each calibration family weighs 1/(n+1), shared by its
/// scores, and the new family weighs 1/(n+1) at infinity; the band's half-width is the (1−α) quantile of that
/// mixture. With one score a family this is ordinary split conformal: the ⌈(n+1)(1−α)⌉-th smallest score.
/// </summary>
/// <remarks>
/// Coverage at least 1−α for a random row of an exchangeable family: Dunn, Wasserman and Ramdas,
/// Distribution-free prediction sets for two-layer hierarchical models, JASA 118, 2023; Lee, Barber and Willett,
/// Distribution-free inference with hierarchical data, 2023.
/// </remarks>
public static class HierarchicalConformal
{
    /// <summary>The fewest families that can promise a coverage: 9 for 90 %, 4 for 80 %.</summary>
    /// <param name="coverage">Above 0, below 1.</param>
    public static int FewestFamilies(double coverage)
    {
        Guard.Finite(coverage, 1e-6, 1 - 1e-6);

        // n/(n+1) ≥ coverage; the small slack keeps 0.9 from asking for ten because 1 − 0.9 is not a tenth in binary.
        return (int)Math.Ceiling((coverage / (1 - coverage)) - 1e-9);
    }

    /// <summary>The half-width that a coverage needs; null where there are too few families to promise it.</summary>
    /// <param name="familyScores">For each family the scores (sizes of errors) of its rows, none empty.</param>
    /// <param name="coverage">Above 0, below 1.</param>
    public static double? HalfWidth(IReadOnlyList<double[]> familyScores, double coverage)
    {
        int families = familyScores.Count;
        if (families < FewestFamilies(coverage))
        {
            return null;
        }

        double[] scores = new double[familyScores.Sum(f => f.Length)];
        double[] weights = new double[scores.Length];
        int at = 0;
        foreach (double[] family in familyScores)
        {
            family.CopyTo(scores, at);
            Array.Fill(weights, 1.0 / family.Length, at, family.Length);
            at += family.Length;
        }

        Array.Sort(scores, weights);
        double needed = (coverage * (families + 1)) - 1e-9;
        double sum = 0;
        for (int i = 0; i < scores.Length; i++)
        {
            sum += weights[i];
            if (sum >= needed)
            {
                return scores[i];
            }
        }

        return scores[^1];
    }
}
