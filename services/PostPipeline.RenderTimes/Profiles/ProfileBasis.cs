using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace PostPipeline.RenderTimes.Profiles;

/// <summary>
/// The few patterns over settings by which families differ: principal components of the families' profiles,
/// by the smaller of the two Gram matrices.
/// </summary>
/// <param name="Patterns">Orthonormal patterns, one array of settings each.</param>
internal sealed record ProfileBasis(double[][] Patterns)
{
    /// <summary>Finds the strongest patterns.</summary>
    /// <param name="profiles">Families by settings, without gaps, the settings' means taken off.</param>
    /// <param name="count">How many patterns at most.</param>
    public static ProfileBasis Learn(double[][] profiles, int count)
    {
        int families = profiles.Length;
        int settings = profiles[0].Length;
        bool bySettings = settings <= families;
        Matrix<double> rows = Matrix<double>.Build.DenseOfRowArrays(profiles);
        Matrix<double> gram = bySettings ? rows.TransposeThisAndMultiply(rows) : rows.TransposeAndMultiply(rows);
        Evd<double> evd = gram.Evd(Symmetricity.Symmetric);
        int size = gram.RowCount;
        List<double[]> patterns = [];
        for (int k = 0; k < Math.Min(count, size); k++)
        {
            double strength = evd.EigenValues[size - 1 - k].Real;
            if (!(strength > 1e-12 * size))
            {
                break;
            }

            Vector<double> vector = evd.EigenVectors.Column(size - 1 - k);
            double[] pattern = (bySettings ? vector : rows.TransposeThisAndMultiply(vector) / Math.Sqrt(strength)).ToArray();

            // A pattern's sign is free; fix it, so that the same rows give the same model wherever it is made.
            if (pattern.Sum() < 0)
            {
                pattern = Array.ConvertAll(pattern, v => -v);
            }

            patterns.Add(pattern);
        }

        return new([.. patterns]);
    }

    /// <summary>The weights of the patterns in each profile.</summary>
    /// <param name="profiles">Families by settings.</param>
    public double[][] Weights(double[][] profiles) =>
        [.. profiles.Select(p => Patterns.Select(pattern => Dense.Dot(p, pattern, p.Length)).ToArray())];
}
