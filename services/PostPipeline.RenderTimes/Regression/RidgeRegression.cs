namespace PostPipeline.RenderTimes.Regression;

/// <summary>
/// A linear model whose coefficients are drawn towards zero (Hoerl and Kennard 1970), solved as least squares
/// with one added row a column, so that it takes the same centred, scaled and refined path.
/// </summary>
/// <param name="Constant">The value where every column is at its mean.</param>
/// <param name="Means">The mean of each column.</param>
/// <param name="Slopes">One coefficient a column; 0 for a column that never varied.</param>
internal sealed record RidgeRegression(double Constant, double[] Means, double[] Slopes)
{
    /// <summary>Fits weighted rows.</summary>
    /// <param name="rows">Encoded rows.</param>
    /// <param name="response">Their values.</param>
    /// <param name="weights">The weight of each row; the weights' mean should be 1.</param>
    /// <param name="penalty">Above zero: the added rows' squared size, in units of rows × the column's variance.</param>
    /// <param name="cancellation">Ends the work early.</param>
    public static RidgeRegression Fit(double[][] rows, double[] response, double[] weights, double penalty, CancellationToken cancellation)
    {
        int width = rows[0].Length;
        double total = weights.Sum();
        double constant = response.Select((y, i) => y * weights[i]).Sum() / total;
        double[] means = new double[width];
        double[] deviations = new double[width];
        for (int j = 0; j < width; j++)
        {
            means[j] = rows.Select((r, i) => r[j] * weights[i]).Sum() / total;
            deviations[j] = Math.Sqrt(rows.Select((r, i) => (r[j] - means[j]) * (r[j] - means[j]) * weights[i]).Sum() / total);
        }

        int[] varying = [.. Enumerable.Range(0, width).Where(j => deviations[j] > 1e-9 * (1 + Math.Abs(means[j])))];
        double[] slopes = new double[width];
        if (varying.Length > 0)
        {
            double[] roots = [.. weights.Select(Math.Sqrt)];
            double[][] columns = [.. varying.Select((j, k) =>
            {
                double[] column = new double[rows.Length + varying.Length];
                for (int i = 0; i < rows.Length; i++)
                {
                    column[i] = roots[i] * (rows[i][j] - means[j]) / deviations[j];
                }

                column[rows.Length + k] = Math.Sqrt(penalty * total);
                return column;
            })];
            double[] target = new double[rows.Length + varying.Length];
            for (int i = 0; i < rows.Length; i++)
            {
                target[i] = roots[i] * (response[i] - constant);
            }

            LeastSquaresFit fit = LeastSquares.Fit(columns, target, intercept: false, cancellation);
            for (int k = 0; k < varying.Length; k++)
            {
                slopes[varying[k]] = fit.Coefficients[k] / deviations[varying[k]];
            }
        }

        return new(constant, means, slopes);
    }

    /// <summary>The prediction for one encoded row.</summary>
    /// <param name="row">As many columns as in training.</param>
    public double Predict(ReadOnlySpan<double> row)
    {
        double sum = Constant;
        for (int j = 0; j < Slopes.Length; j++)
        {
            sum += Slopes[j] * (row[j] - Means[j]);
        }

        return sum;
    }
}
