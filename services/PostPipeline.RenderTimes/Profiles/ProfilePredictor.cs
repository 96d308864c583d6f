using PostPipeline.RenderTimes.Regression;
using PostPipeline.RenderTimes.Trees;

namespace PostPipeline.RenderTimes.Profiles;

/// <summary>
/// Predicts the times of a family at every setting from what describes the family: a mean for each setting, a
/// log-linear trend in the family's features, and the weights of a few patterns over settings, each by a blend of
/// a kernel model and boosted trees.
/// </summary>
/// <param name="Scaling">How what describes a family becomes a point.</param>
/// <param name="SettingMeans">The mean of each setting, trend taken off.</param>
/// <param name="Trend">The log-linear level in the family's features.</param>
/// <param name="Basis">The patterns.</param>
/// <param name="Unit">The size of the profiles, so that the kernel sees about unit variance.</param>
/// <param name="Kernel">The kernel.</param>
/// <param name="Points">The training families.</param>
/// <param name="Weights">For each training family its weight in each pattern's kernel prediction.</param>
/// <param name="Trees">Boosted trees for the strongest patterns.</param>
/// <param name="TreeShare">The trees' share in the blend, 0 to 1.</param>
internal sealed record ProfilePredictor(
    FamilyScaling Scaling,
    double[] SettingMeans,
    RidgeRegression? Trend,
    ProfileBasis Basis,
    double Unit,
    FamilyKernel? Kernel,
    FamilyPoint[] Points,
    double[][] Weights,
    TreeEnsemble[] Trees,
    double TreeShare)
{
    private const int MostPatterns = 14;
    private const int MostTreePatterns = 6;
    private static readonly TreeOptions TreeOptions = new(150, 8, 0.05, 8, 0.7, 128);

    /// <summary>Whether anything describes the families; without, every family gets the settings' means.</summary>
    public bool HasFeatures => Kernel is not null;

    /// <summary>Tunes the kernel on the families of a design; null where nothing describes them.</summary>
    /// <param name="design">The families.</param>
    /// <param name="seed">Seed of the tuning sample.</param>
    /// <param name="cancellation">Ends the search.</param>
    public static FamilyKernel? Tune(CrossedDesign design, long seed, CancellationToken cancellation)
    {
        FamilyScaling scaling = FamilyScaling.Learn(design.Families);
        if (scaling.Encoder.Width == 0)
        {
            return null;
        }

        Prepared prepared = Prepare(design, scaling, cancellation);
        double[][] targets = [.. prepared.Basis.Weights(prepared.Profiles).Select(w => w.Take(8).Select(v => v / prepared.Unit).ToArray())];
        return KernelTuner.Tune(prepared.Points, targets, seed, cancellation);
    }

    /// <summary>Fits the families of a design.</summary>
    /// <param name="design">The families.</param>
    /// <param name="kernel">The tuned kernel; null where nothing describes the families.</param>
    /// <param name="treeShare">The trees' share in the blend.</param>
    /// <param name="seed">Seed of the trees.</param>
    /// <param name="cancellation">Ends the work between fits.</param>
    public static ProfilePredictor Fit(CrossedDesign design, FamilyKernel? kernel, double treeShare, int seed, CancellationToken cancellation)
    {
        FamilyScaling scaling = FamilyScaling.Learn(design.Families);
        Prepared prepared = Prepare(design, scaling, cancellation);
        if (kernel is null)
        {
            return new(scaling, prepared.SettingMeans, prepared.Trend, prepared.Basis, prepared.Unit, null, [], [], [], 0);
        }

        double[][] targets = [.. prepared.Basis.Weights(prepared.Profiles).Select(w => w.Select(v => v / prepared.Unit).ToArray())];
        double[][] matrix = kernel.Between(prepared.Points, prepared.Points, same: true);
        double[][] weights = [.. targets.Select(t => (double[])t.Clone())];
        if (!Dense.TryFactor(matrix))
        {
            throw new TrainingRefusedException("The families cannot be told apart by their features; their kernel matrix has no factor.");
        }

        Dense.Solve(matrix, weights);
        cancellation.ThrowIfCancellationRequested();
        TreeEnsemble[] trees = [];
        if (treeShare > 0)
        {
            float[][] features = [.. scaling.Encoder.Encode(design.Families).Select(r => Array.ConvertAll(r, v => (float)v))];
            trees = new TreeEnsemble[Math.Min(MostTreePatterns, prepared.Basis.Patterns.Length)];
            for (int k = 0; k < trees.Length; k++)
            {
                cancellation.ThrowIfCancellationRequested();
                trees[k] = BoostedTrees.Fit(features, [.. targets.Select(t => (float)t[k])], TreeOptions, seed);
            }
        }

        return new(scaling, prepared.SettingMeans, prepared.Trend, prepared.Basis, prepared.Unit, kernel, prepared.Points, weights, trees, treeShare);
    }

    /// <summary>Log seconds per frame of a family at every setting.</summary>
    /// <param name="encoded">What describes the family, encoded.</param>
    public double[] Predict(double[] encoded) => Predict(encoded, TreeShare);

    /// <summary>The same with another share of the trees, so that the share can be chosen.</summary>
    /// <param name="encoded">What describes the family, encoded.</param>
    /// <param name="treeShare">0 to 1.</param>
    public double[] Predict(double[] encoded, double treeShare)
    {
        double[] profile = [.. SettingMeans];
        if (Trend is not null)
        {
            double level = Trend.Predict(encoded);
            for (int s = 0; s < profile.Length; s++)
            {
                profile[s] += level;
            }
        }

        if (Kernel is null)
        {
            return profile;
        }

        double[] likeness = Kernel.Between([Scaling.Point(encoded)], Points, same: false)[0];
        double[] byKernel = new double[Basis.Patterns.Length];
        for (int i = 0; i < Points.Length; i++)
        {
            Dense.Add(likeness[i], Weights[i], byKernel, byKernel.Length);
        }

        float[] features = Trees.Length > 0 ? Array.ConvertAll(encoded, v => (float)v) : [];
        for (int k = 0; k < byKernel.Length; k++)
        {
            // Beyond the strongest patterns there are no trees; the kernel speaks alone.
            double weight = k < Trees.Length ? ((1 - treeShare) * byKernel[k]) + (treeShare * Trees[k].Predict(features)) : byKernel[k];
            Dense.Add(weight * Unit, Basis.Patterns[k], profile, profile.Length);
        }

        return profile;
    }

    private static Prepared Prepare(CrossedDesign design, FamilyScaling scaling, CancellationToken cancellation)
    {
        double[][] times = Filled(design.Times);
        int settings = design.Settings.Length;
        RidgeRegression? trend = null;
        double[] levels = new double[times.Length];
        if (scaling.Encoder.Width > 0)
        {
            double[][] encoded = scaling.Encoder.Encode(design.Families);
            double[] means = [.. times.Select(t => t.Average())];
            double centre = means.Average();
            trend = RidgeRegression.Fit(encoded, [.. means.Select(m => m - centre)], [.. means.Select(_ => 1.0)], 1e-2, cancellation);
            levels = [.. encoded.Select(e => trend.Predict(e))];
        }

        double[] settingMeans = new double[settings];
        for (int s = 0; s < settings; s++)
        {
            settingMeans[s] = times.Select((t, f) => t[s] - levels[f]).Average();
        }

        double[][] profiles = [.. times.Select((t, f) => t.Select((v, s) => v - levels[f] - settingMeans[s]).ToArray())];
        double unit = Math.Sqrt(profiles.Average(p => p.Sum(v => v * v)));
        return new(settingMeans, trend, profiles, ProfileBasis.Learn(profiles, MostPatterns), unit > 0 ? unit : 1, scaling.Points(design.Families));
    }

    // A gap takes the setting's mean plus the family's mean distance from the settings' means.
    private static double[][] Filled(double[][] times)
    {
        int settings = times[0].Length;
        double[] means = new double[settings];
        for (int s = 0; s < settings; s++)
        {
            means[s] = times.Select(t => t[s]).Where(v => !double.IsNaN(v)).DefaultIfEmpty(0).Average();
        }

        return [.. times.Select(t =>
        {
            double offset = t.Select((v, s) => v - means[s]).Where(v => !double.IsNaN(v)).DefaultIfEmpty(0).Average();
            return t.Select((v, s) => double.IsNaN(v) ? means[s] + offset : v).ToArray();
        })];
    }

    private sealed record Prepared(
        double[] SettingMeans, RidgeRegression? Trend, double[][] Profiles, ProfileBasis Basis, double Unit, FamilyPoint[] Points);
}
