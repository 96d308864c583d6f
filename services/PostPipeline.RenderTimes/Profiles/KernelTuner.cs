using PostPipeline.Quantities.Randomness;

namespace PostPipeline.RenderTimes.Profiles;

/// <summary>
/// Finds the kernel's parameters by coordinate search on the mean size of leave-one-out errors, which have a
/// closed form (Rasmussen and Williams 2006, equation 5.12). A sample of the families is enough for that.
/// </summary>
internal static class KernelTuner
{
    private const int Sample = 320;
    private const int Rounds = 3;

    /// <summary>Tunes a kernel.</summary>
    /// <param name="points">The families.</param>
    /// <param name="targets">For each family the values to explain, of about unit size together.</param>
    /// <param name="seed">Seed of the sample.</param>
    /// <param name="cancellation">Ends the search.</param>
    public static FamilyKernel Tune(FamilyPoint[] points, double[][] targets, long seed, CancellationToken cancellation)
    {
        int[] sample = [.. Enumerable.Range(0, points.Length)];
        RandomStream random = new(seed, RandomPurpose.Folds, 1);
        for (int i = 0; i < Math.Min(Sample, sample.Length); i++)
        {
            int other = i + random.NextBelow(sample.Length - i);
            (sample[i], sample[other]) = (sample[other], sample[i]);
        }

        sample = [.. sample.Take(Sample).Order()];
        FamilyPoint[] chosen = [.. sample.Select(i => points[i])];
        double[][] values = [.. sample.Select(i => targets[i])];
        double[] parameters = FamilyKernel.Start(points[0].Numbers.Length).ToParameters();
        double best = Score(chosen, values, parameters);
        double[] steps = [.. Enumerable.Repeat(0.9, parameters.Length)];
        for (int round = 0; round < Rounds; round++)
        {
            for (int i = 0; i < parameters.Length; i++)
            {
                cancellation.ThrowIfCancellationRequested();
                if (!TryStep(chosen, values, parameters, i, steps[i], ref best) && !TryStep(chosen, values, parameters, i, -steps[i], ref best))
                {
                    steps[i] /= 2;
                }
            }
        }

        return FamilyKernel.FromParameters(parameters);
    }

    private static bool TryStep(FamilyPoint[] points, double[][] targets, double[] parameters, int which, double step, ref double best)
    {
        double before = parameters[which];
        parameters[which] = before + step;
        double score = Score(points, targets, parameters);
        if (score < best - 1e-7)
        {
            best = score;
            return true;
        }

        parameters[which] = before;
        return false;
    }

    private static double Score(FamilyPoint[] points, double[][] targets, double[] parameters)
    {
        double[][] matrix = FamilyKernel.FromParameters(parameters).Between(points, points, same: true);
        if (!Dense.TryFactor(matrix))
        {
            return double.PositiveInfinity;
        }

        double[][] solved = [.. targets.Select(t => (double[])t.Clone())];
        Dense.Solve(matrix, solved);
        double[] diagonal = Dense.InverseDiagonal(matrix);
        double sum = 0;
        for (int i = 0; i < solved.Length; i++)
        {
            foreach (double value in solved[i])
            {
                sum += Math.Abs(value) / diagonal[i];
            }
        }

        return sum / (solved.Length * (double)solved[0].Length);
    }
}
