using System.Collections.Immutable;

namespace PostPipeline.RenderTimes;

/// <summary>What a model rests on and how it did on families that it had not seen.</summary>
/// <param name="Id">Name of the model: a hash of data, schema, seed and algorithm.</param>
/// <param name="DataHash">Content hash of the benchmark set.</param>
/// <param name="Invented">Whether the rows are invented.</param>
/// <param name="Seed">Seed of folds and trees.</param>
/// <param name="Rows">Rows it was trained on.</param>
/// <param name="Families">Families it was trained on.</param>
/// <param name="Kind">Which kind of predictor cross-validation chose.</param>
/// <param name="HeldOut">Errors on families held out whole.</param>
/// <param name="Baseline">Errors of the trivial baseline on the same families.</param>
/// <param name="Candidates">Every kind that was tried, on the same held-out rows.</param>
/// <param name="Importance">What drives the prediction, most important first.</param>
/// <param name="Dependence">How the prediction moves with each feature.</param>
public sealed record ModelRecord(
    string Id,
    string DataHash,
    bool Invented,
    long Seed,
    int Rows,
    int Families,
    string Kind,
    HeldOutMetrics HeldOut,
    HeldOutMetrics Baseline,
    ImmutableArray<CandidateMetrics> Candidates,
    ImmutableArray<FeatureImportance> Importance,
    ImmutableArray<PartialDependence> Dependence)
{
    /// <summary>Part of a model's name: another algorithm is another model.</summary>
    public const string Algorithm = "render-times-3";
}
