using System.Numerics;

namespace PostPipeline.RenderTimes.Profiles;

/// <summary>The few dense operations that a kernel model needs, on rows, with the processor's vector units.</summary>
internal static class Dense
{
    /// <summary>Σ aᵢ bᵢ over the first <paramref name="count"/> entries.</summary>
    /// <param name="a">First vector.</param>
    /// <param name="b">Second vector.</param>
    /// <param name="count">How many entries.</param>
    public static double Dot(double[] a, double[] b, int count)
    {
        Vector<double> sum = Vector<double>.Zero;
        int i = 0;
        for (; i <= count - Vector<double>.Count; i += Vector<double>.Count)
        {
            sum += new Vector<double>(a, i) * new Vector<double>(b, i);
        }

        double total = Vector.Sum(sum);
        for (; i < count; i++)
        {
            total += a[i] * b[i];
        }

        return total;
    }

    /// <summary>y += factor · x over the first <paramref name="count"/> entries.</summary>
    /// <param name="factor">The factor.</param>
    /// <param name="x">What is added.</param>
    /// <param name="y">What it is added to.</param>
    /// <param name="count">How many entries.</param>
    public static void Add(double factor, double[] x, double[] y, int count)
    {
        Vector<double> factors = new(factor);
        int i = 0;
        for (; i <= count - Vector<double>.Count; i += Vector<double>.Count)
        {
            (new Vector<double>(y, i) + (factors * new Vector<double>(x, i))).CopyTo(y, i);
        }

        for (; i < count; i++)
        {
            y[i] += factor * x[i];
        }
    }

    /// <summary>The lower Cholesky factor of a symmetric matrix, in its place; false where it is not positive definite.</summary>
    /// <param name="matrix">Rows; only the lower half is read.</param>
    public static bool TryFactor(double[][] matrix)
    {
        for (int i = 0; i < matrix.Length; i++)
        {
            double[] row = matrix[i];
            for (int j = 0; j < i; j++)
            {
                row[j] = (row[j] - Dot(row, matrix[j], j)) / matrix[j][j];
            }

            double rest = row[i] - Dot(row, row, i);
            if (!(rest > 0))
            {
                return false;
            }

            row[i] = Math.Sqrt(rest);
        }

        return true;
    }

    /// <summary>Solves L Lᵀ x = b for several right sides.</summary>
    /// <param name="factor">The lower factor.</param>
    /// <param name="right">Row i holds entry i of every right side; replaced by the solutions.</param>
    public static void Solve(double[][] factor, double[][] right)
    {
        int sides = right.Length == 0 ? 0 : right[0].Length;
        for (int i = 0; i < factor.Length; i++)
        {
            for (int k = 0; k < i; k++)
            {
                Add(-factor[i][k], right[k], right[i], sides);
            }

            Scale(right[i], 1 / factor[i][i]);
        }

        for (int i = factor.Length - 1; i >= 0; i--)
        {
            for (int k = i + 1; k < factor.Length; k++)
            {
                Add(-factor[k][i], right[k], right[i], sides);
            }

            Scale(right[i], 1 / factor[i][i]);
        }
    }

    /// <summary>The diagonal of (L Lᵀ)⁻¹.</summary>
    /// <param name="factor">The lower factor.</param>
    public static double[] InverseDiagonal(double[][] factor)
    {
        int size = factor.Length;
        double[][] inverse = new double[size][];
        double[] diagonal = new double[size];
        for (int i = 0; i < size; i++)
        {
            double[] row = new double[size];
            for (int k = 0; k < i; k++)
            {
                Add(-factor[i][k], inverse[k], row, k + 1);
            }

            row[i] = 1;
            Scale(row, 1 / factor[i][i]);
            inverse[i] = row;
            for (int j = 0; j <= i; j++)
            {
                diagonal[j] += row[j] * row[j];
            }
        }

        return diagonal;
    }

    private static void Scale(double[] row, double factor)
    {
        for (int i = 0; i < row.Length; i++)
        {
            row[i] *= factor;
        }
    }
}
