using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace PostPipeline.RenderTimes.Regression;

/// <summary>
/// Linear least squares: the columns are centred and scaled, factored by Householder QR, and the solution is
/// refined on the augmented system with residuals in double-double arithmetic, until it no longer moves.
/// </summary>
/// <remarks>
/// The refinement is Björck's (Iterative refinement of linear least squares solutions I, BIT 7, 1967): residual
/// and coefficients are corrected together, so that a problem with large residuals is refined as well as one
/// that fits exactly.
/// </remarks>
public static class LeastSquares
{
    /// <summary>The most corrections tried; each gains several digits, and the loop ends when none moves the solution.</summary>
    public const int MaximumRefinements = 12;

    /// <summary>The smallest ratio of a diagonal entry of R to the largest; below it the columns count as dependent.</summary>
    public const double DependenceLimit = 1e-13;

    /// <summary>Fits y = b₀ + Σ bⱼ xⱼ, or without b₀.</summary>
    /// <param name="columns">The predictors, one array a column, all as long as <paramref name="response"/>.</param>
    /// <param name="response">The observed values.</param>
    /// <param name="intercept">Whether the model has a constant.</param>
    /// <param name="cancellation">Ends the work early.</param>
    /// <exception cref="ArgumentException">Lengths differ, or there are fewer rows than coefficients.</exception>
    /// <exception cref="DependentColumnsException">A column is a linear combination of the others.</exception>
    public static LeastSquaresFit Fit(
        IReadOnlyList<double[]> columns, double[] response, bool intercept = true, CancellationToken cancellation = default)
    {
        int rows = response.Length;
        int width = columns.Count;
        int parameters = width + (intercept ? 1 : 0);
        if (columns.Any(c => c.Length != rows))
        {
            throw new ArgumentException($"Every column must have {rows} values, as many as the response.", nameof(columns));
        }

        if (rows < parameters || width == 0)
        {
            throw new ArgumentException($"{rows} rows cannot determine {parameters} coefficients of {width} columns.", nameof(columns));
        }

        Centred[] centred = [.. columns.Select(c => Centred.From(c, intercept))];
        Centred target = Centred.From(response, intercept);
        Matrix<double> design = Matrix<double>.Build.Dense(rows, width, (i, j) => centred[j].High[i]);
        QR<double> qr = design.QR(QRMethod.Thin);
        RequireIndependence(qr.R);
        cancellation.ThrowIfCancellationRequested();
        (DoubleDouble[] gamma, DoubleDouble[] residual) = Refine(centred, target, qr, cancellation);
        return Unscale(columns, response, intercept, centred, target, gamma, residual, qr.R);
    }

    private static (DoubleDouble[] Gamma, DoubleDouble[] Residual) Refine(
        Centred[] columns, Centred target, QR<double> qr, CancellationToken cancellation)
    {
        int rows = target.High.Length;
        DoubleDouble[] gamma = new DoubleDouble[columns.Length];
        DoubleDouble[] residual = new DoubleDouble[rows];
        double last = double.PositiveInfinity;
        for (int round = 0; round <= MaximumRefinements; round++)
        {
            cancellation.ThrowIfCancellationRequested();

            // f = y − r − Xγ and g = −Xᵀr, both in double-double; with zero starts the first round is the plain solution.
            double[] f = new double[rows];
            for (int i = 0; i < rows; i++)
            {
                DoubleDouble sum = target[i] - residual[i];
                for (int j = 0; j < columns.Length; j++)
                {
                    sum -= columns[j][i] * gamma[j];
                }

                f[i] = sum.High;
            }

            double[] g = [.. columns.Select(c => -Dot(c, residual).High)];
            Vector<double> z = SolveTransposed(qr.R, g);
            Vector<double> q = qr.Q.TransposeThisAndMultiply(Vector<double>.Build.Dense(f));
            Vector<double> change = SolveUpper(qr.R, q - z);
            Vector<double> residualChange = Vector<double>.Build.Dense(f) + (qr.Q * (z - q));
            double size = Relative(change, gamma);
            if (round > 0 && size >= last)
            {
                break;
            }

            for (int j = 0; j < columns.Length; j++)
            {
                gamma[j] += change[j];
            }

            for (int i = 0; i < rows; i++)
            {
                residual[i] += residualChange[i];
            }

            last = size;
            if (round > 0 && size < 1e-25)
            {
                break;
            }
        }

        return (gamma, residual);
    }

    private static LeastSquaresFit Unscale(
        IReadOnlyList<double[]> columns,
        double[] response,
        bool intercept,
        Centred[] centred,
        Centred target,
        DoubleDouble[] gamma,
        DoubleDouble[] residual,
        Matrix<double> r)
    {
        int width = columns.Count;
        int parameters = width + (intercept ? 1 : 0);
        DoubleDouble[] slopes = [.. gamma.Select((g, j) => g * target.Scale / centred[j].Scale)];
        DoubleDouble constant = slopes.Select((s, j) => s * centred[j].Mean).Aggregate(target.Mean, (left, term) => left - term);
        DoubleDouble squares = DoubleDouble.Zero;
        foreach (DoubleDouble value in residual)
        {
            squares += value * value;
        }

        int freedom = response.Length - parameters;
        double scaledSum = squares.High;
        double deviation = freedom > 0 ? Math.Sqrt(scaledSum / freedom) * target.Scale : double.NaN;
        Matrix<double> inverse = Matrix<double>.Build.Dense(width, width, (i, j) => i == j ? 1.0 : 0.0);
        inverse = InvertUpper(r, inverse);
        Matrix<double> covariance = inverse.TransposeAndMultiply(inverse);
        double[] errors = new double[parameters];
        for (int j = 0; j < width; j++)
        {
            errors[j + (intercept ? 1 : 0)] = deviation / centred[j].Scale * Math.Sqrt(covariance[j, j]);
        }

        if (intercept)
        {
            double[] lever = [.. centred.Select(c => c.Mean.High / c.Scale)];
            double form = 1.0 / response.Length;
            for (int i = 0; i < width; i++)
            {
                for (int j = 0; j < width; j++)
                {
                    form += lever[i] * covariance[i, j] * lever[j];
                }
            }

            errors[0] = deviation * Math.Sqrt(form);
        }

        double[] coefficients = [.. intercept ? new[] { constant.High } : [], .. slopes.Select(s => s.High)];
        return new(coefficients, errors, deviation, [.. residual.Select(v => v.High * target.Scale)], intercept);
    }

    private static void RequireIndependence(Matrix<double> r)
    {
        double largest = Enumerable.Range(0, r.ColumnCount).Max(j => Math.Abs(r[j, j]));
        for (int j = 0; j < r.ColumnCount; j++)
        {
            if (!(Math.Abs(r[j, j]) > largest * DependenceLimit))
            {
                throw new DependentColumnsException(j);
            }
        }
    }

    private static DoubleDouble Dot(Centred column, DoubleDouble[] vector)
    {
        DoubleDouble sum = DoubleDouble.Zero;
        for (int i = 0; i < vector.Length; i++)
        {
            sum += column[i] * vector[i];
        }

        return sum;
    }

    private static double Relative(Vector<double> change, DoubleDouble[] value)
    {
        double norm = Math.Sqrt(value.Sum(v => v.High * v.High));
        return norm > 0 ? change.L2Norm() / norm : double.PositiveInfinity;
    }

    private static Vector<double> SolveUpper(Matrix<double> r, Vector<double> right)
    {
        double[] x = right.ToArray();
        for (int i = x.Length - 1; i >= 0; i--)
        {
            for (int j = i + 1; j < x.Length; j++)
            {
                x[i] -= r[i, j] * x[j];
            }

            x[i] /= r[i, i];
        }

        return Vector<double>.Build.Dense(x);
    }

    private static Vector<double> SolveTransposed(Matrix<double> r, double[] right)
    {
        double[] x = [.. right];
        for (int i = 0; i < x.Length; i++)
        {
            for (int j = 0; j < i; j++)
            {
                x[i] -= r[j, i] * x[j];
            }

            x[i] /= r[i, i];
        }

        return Vector<double>.Build.Dense(x);
    }

    private static Matrix<double> InvertUpper(Matrix<double> r, Matrix<double> identity)
    {
        for (int column = 0; column < identity.ColumnCount; column++)
        {
            identity.SetColumn(column, SolveUpper(r, identity.Column(column)));
        }

        return identity;
    }

    /// <summary>A column less its mean, over its root sum of squares, kept in double-double.</summary>
    private sealed record Centred(double[] High, double[] Low, DoubleDouble Mean, double Scale)
    {
        public DoubleDouble this[int row] => new(High[row], Low[row]);

        public static Centred From(double[] values, bool centre)
        {
            DoubleDouble mean = DoubleDouble.Zero;
            if (centre)
            {
                foreach (double value in values)
                {
                    mean += value;
                }

                mean /= values.Length;
            }

            DoubleDouble[] shifted = [.. values.Select(v => v - mean)];
            double norm = Math.Sqrt(shifted.Sum(v => v.High * v.High));

            // A power of two scales without rounding; a constant column keeps 1 and is found dependent by the factorisation.
            double scale = norm > 0 ? Math.ScaleB(1, Math.ILogB(norm)) : 1;
            return new([.. shifted.Select(v => v.High / scale)], [.. shifted.Select(v => v.Low / scale)], mean, scale);
        }
    }
}
