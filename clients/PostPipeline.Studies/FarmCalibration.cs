namespace PostPipeline.Studies;

/// <summary>The farm's fluid model held against the event simulation on the brief's own material.</summary>
/// <param name="Stage">The stage.</param>
/// <param name="Ratios">Open farm time from the last release to the finish, simulated over fluid, one a replication, ascending.</param>
/// <param name="DisagreementPercent">Median simulated finish against the fluid finish, in % of the time since the first release.</param>
/// <param name="Replications">Replications that were run.</param>
/// <param name="FinishSeconds">Median simulated finish, s on the study's clock.</param>
/// <param name="Tasks">Tasks of a replication.</param>
public sealed record FarmCalibration(string Stage, IReadOnlyList<double> Ratios, double DisagreementPercent, int Replications, double FinishSeconds, long Tasks);
