namespace PostPipeline.Slates.Planning;

/// <summary>Why a project got its pipeline: what each other one would have made worse.</summary>
/// <param name="Project">The project.</param>
/// <param name="Pipeline">The pipeline it got.</param>
/// <param name="Alternatives">The others, in the order of the project.</param>
public sealed record PipelineReason(string Project, string Pipeline, IReadOnlyList<Alternative> Alternatives);
