namespace PostPipeline.RenderTimes;

/// <summary>
/// By how much the mean size of the log error on held-out families grows when a feature's values are shuffled
/// among the rows (permutation importance, Breiman 2001, Random Forests).
/// </summary>
/// <param name="Feature">The column; "setting" stands for all columns of a setting together.</param>
/// <param name="Increase">Growth of the mean |log(measured ÷ predicted)|; about 0 for a feature that does not matter.</param>
public sealed record FeatureImportance(string Feature, double Increase);
