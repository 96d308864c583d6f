namespace PostPipeline.RenderTimes;

/// <summary>How a kind of predictor did on families held out whole.</summary>
/// <param name="Kind">The kind.</param>
/// <param name="HeldOut">Its errors.</param>
public sealed record CandidateMetrics(string Kind, HeldOutMetrics HeldOut);
