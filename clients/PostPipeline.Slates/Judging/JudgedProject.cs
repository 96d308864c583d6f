using PostPipeline.Studies.Outcomes;

namespace PostPipeline.Slates.Judging;

/// <summary>How a project fares when the planned slate is run on draws.</summary>
/// <param name="Project">Its name.</param>
/// <param name="Pipeline">The pipeline that the plan gives it.</param>
/// <param name="OnTime">P(on time), with its Monte Carlo error.</param>
/// <param name="End">The half-day after its last, over draws.</param>
public sealed record JudgedProject(string Project, string Pipeline, Probability OnTime, Studies.Outcomes.Range End);
