namespace PostPipeline.RenderTimes;

/// <summary>How one of two compared models did on the common rows.</summary>
/// <param name="ModelId">The model's name.</param>
/// <param name="HeldOut">Its errors.</param>
/// <param name="BandCoverage">The part of rows inside its 90 % bands; null where it promised none.</param>
public sealed record ModelErrors(string ModelId, HeldOutMetrics HeldOut, double? BandCoverage);
