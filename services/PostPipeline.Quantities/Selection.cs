using System.Numerics;

namespace PostPipeline.Quantities;

/// <summary>
/// Hoare's FIND (Algorithm 65, Communications of the ACM 4(7), 1961) with the median of three as pivot: puts one order
/// statistic in its place and smaller values before it. Where pivots are bad for too long the rest is sorted, so that no
/// order of the values takes more than about n·log n steps.
/// </summary>
internal static class Selection
{
    private const int Few = 24;

    /// <summary>Moves values so that the one at a rank is in its place, none before it is above it and none after it is below it.</summary>
    /// <param name="values">Values, none of them not a number: that compares with nothing.</param>
    /// <param name="rank">0 to the count of values − 1.</param>
    public static void Place(Span<double> values, int rank)
    {
        (int low, int high) = (0, values.Length - 1);
        for (int rounds = 2 * BitOperations.Log2((uint)values.Length + 1); high - low > Few; rounds--)
        {
            if (rounds < 0)
            {
                break;
            }

            double pivot = Middle(values[low], values[(low + high) / 2], values[high]);
            (int i, int j) = (low, high);
            while (i <= j)
            {
                while (values[i] < pivot)
                {
                    i++;
                }

                while (values[j] > pivot)
                {
                    j--;
                }

                if (i <= j)
                {
                    (values[i], values[j]) = (values[j], values[i]);
                    i++;
                    j--;
                }
            }

            if (rank > j && rank < i)
            {
                return;
            }

            (low, high) = rank <= j ? (low, j) : (i, high);
        }

        values[low..(high + 1)].Sort();
    }

    private static double Middle(double a, double b, double c) => Math.Max(Math.Min(a, b), Math.Min(Math.Max(a, b), c));
}
