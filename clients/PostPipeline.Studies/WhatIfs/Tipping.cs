using PostPipeline.Quantities;
using PostPipeline.Studies.Inputs;

namespace PostPipeline.Studies.WhatIfs;

/// <summary>
/// Finds where the preferred pipeline changes along an input: a scan, then bisection on the same draws to the asked
/// precision. The same bisection on other draws shows the interval that sampling noise leaves open.
/// </summary>
public static class Tipping
{
    private const int Scan = 24;
    private const int Repeats = 12;

    /// <summary>Finds the tipping values between two values of an input.</summary>
    /// <param name="model">The model.</param>
    /// <param name="input">The input's name.</param>
    /// <param name="from">One end, in the input's unit.</param>
    /// <param name="to">The other end, above it.</param>
    /// <param name="precision">How exactly each is found, in the input's unit.</param>
    /// <param name="count">Draws.</param>
    /// <param name="threads">Threads to use; the numbers do not hang on it.</param>
    /// <param name="cancellation">Ends the computation.</param>
    public static IReadOnlyList<TippingValue> Find(
        StudyModel model, string input, double from, double to, double precision, int count = 1000, int threads = 1, CancellationToken cancellation = default)
    {
        Guard.Finite(to, from, double.MaxValue);
        Guard.Finite(precision, (to - from) * 1e-9, to - from);
        model.Inputs.PlaceOf(input);
        DrawSet draws = DrawSet.Sample(model.Inputs, count, model.Study.Brief.Seed, threads);
        DrawSet[] others = [.. Enumerable.Range(1, Repeats).Select(i => DrawSet.Sample(model.Inputs, count, unchecked(model.Study.Brief.Seed + (i * 1_000_003L)), threads))];
        string Preferred(DrawSet set, double value) => Decision.Of(model, set, [Change.Fix(input, value)], threads, cancellation).Preferred;

        double[] grid = [.. Enumerable.Range(0, Scan + 1).Select(i => from + ((to - from) * i / Scan))];
        string[] at = [.. grid.Select(v => Preferred(draws, v))];
        List<TippingValue> found = [];
        for (int i = 0; i < Scan; i++)
        {
            if (at[i] == at[i + 1])
            {
                continue;
            }

            double value = Bisect(v => Preferred(draws, v), grid[i], grid[i + 1], at[i], precision);
            string above = Preferred(draws, value + precision);
            double low = value;
            double high = value;
            foreach (DrawSet other in others)
            {
                double again = Again(v => Preferred(other, v), grid, i, at[i], precision);
                (low, high) = (Math.Min(low, again), Math.Max(high, again));
            }

            found.Add(new(input, value, at[i], above, low, high));
        }

        return found;
    }

    // On other draws the change may lie in a neighbouring cell of the scan: widen until both ends differ, at most to its ends.
    private static double Again(Func<double, string> preferred, double[] grid, int cell, string below, double precision)
    {
        (int left, int right) = (cell, cell + 1);
        while (left > 0 && preferred(grid[left]) != below)
        {
            left--;
        }

        while (right < grid.Length - 1 && preferred(grid[right]) == below)
        {
            right++;
        }

        return preferred(grid[left]) != below ? grid[left] : preferred(grid[right]) == below ? grid[right] : Bisect(preferred, grid[left], grid[right], below, precision);
    }

    private static double Bisect(Func<double, string> preferred, double low, double high, string below, double precision)
    {
        while (high - low > precision)
        {
            double middle = (low + high) / 2;
            if (preferred(middle) == below)
            {
                low = middle;
            }
            else
            {
                high = middle;
            }
        }

        return (low + high) / 2;
    }
}
