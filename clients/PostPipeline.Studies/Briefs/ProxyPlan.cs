using PostPipeline.Quantities;

namespace PostPipeline.Studies.Briefs;

/// <summary>What a proxy pipeline cuts in.</summary>
/// <param name="Rate">Data rate.</param>
/// <param name="NamesKept">Whether lists keep full clip name, timecode and rate; null where unknown.</param>
public sealed record ProxyPlan(
    DataRate Rate,
    bool? NamesKept);
