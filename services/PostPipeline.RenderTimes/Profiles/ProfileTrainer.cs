namespace PostPipeline.RenderTimes.Profiles;

/// <summary>Fits a profile predictor and finds, family by family, how far it is off on families held out whole.</summary>
internal static class ProfileTrainer
{
    private const int HeldOutParts = 5;
    private static readonly double[] Shares = [0, 0.15, 0.3, 0.45, 0.6, 0.8, 1];

    /// <summary>How many steps a training takes: the search for the kernel, a fit a fold, the final one.</summary>
    /// <param name="design">The families.</param>
    public static int Steps(CrossedDesign design) => 2 + Math.Min(design.Times.Length, HeldOutParts);

    /// <summary>Trains on all families of a design.</summary>
    /// <param name="design">The families.</param>
    /// <param name="seed">Seed of folds, tuning and trees.</param>
    /// <param name="steps">Counts the steps.</param>
    /// <param name="cancellation">Ends the work between fits.</param>
    public static (ProfilePredictor Predictor, double[][] Residuals) Train(CrossedDesign design, long seed, TrainingSteps steps, CancellationToken cancellation)
    {
        int families = design.Times.Length;
        int treeSeed = (int)(seed & 0x3fffffff);
        FamilyKernel? kernel = ProfilePredictor.Tune(design, seed, cancellation);
        int[] fold = FamilyFolds.Assign(families, kernel is null ? families : HeldOutParts, seed);
        steps.Done();
        if (kernel is null)
        {
            steps.Expect(families - Math.Min(families, HeldOutParts));
        }

        double[][][] heldOut = new double[kernel is null ? 1 : Shares.Length][][];
        for (int share = 0; share < heldOut.Length; share++)
        {
            heldOut[share] = new double[families][];
        }

        Folds.Each(fold.Max() + 1, f =>
        {
            int[] training = [.. Enumerable.Range(0, families).Where(i => fold[i] != f)];
            ProfilePredictor predictor = ProfilePredictor.Fit(design.Take(training), kernel, kernel is null ? 0 : 0.5, treeSeed, cancellation);
            int[] testing = [.. Enumerable.Range(0, families).Where(i => fold[i] == f)];
            double[][] encoded = predictor.Scaling.Encoder.Encode(design.Families.Take(testing));
            for (int i = 0; i < testing.Length; i++)
            {
                cancellation.ThrowIfCancellationRequested();
                for (int share = 0; share < heldOut.Length; share++)
                {
                    heldOut[share][testing[i]] = predictor.Predict(encoded[i], Shares[share]);
                }
            }

            steps.Done();
        }, cancellation);

        double[][][] residuals = [.. heldOut.Select(h => Residuals(design, h))];
        int best = Enumerable.Range(0, residuals.Length).MinBy(share => MeanSize(residuals[share]));
        ProfilePredictor final = ProfilePredictor.Fit(design, kernel, kernel is null ? 0 : Shares[best], treeSeed, cancellation);
        steps.Done();
        return (final, residuals[best]);
    }

    private static double[][] Residuals(CrossedDesign design, double[][] predicted) =>
        [.. design.Times.Select((times, f) => times.Select((t, s) => t - predicted[f][s]).ToArray())];

    private static double MeanSize(double[][] residuals) =>
        residuals.Average(r => r.Where(v => !double.IsNaN(v)).DefaultIfEmpty(0).Average(Math.Abs));
}
