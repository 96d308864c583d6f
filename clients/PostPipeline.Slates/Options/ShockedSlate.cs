using PostPipeline.Slates.Planning;

namespace PostPipeline.Slates.Options;

/// <summary>A slate that something happened to.</summary>
/// <param name="Problem">The slate to be planned again.</param>
/// <param name="Breaks">What no plan can mend: gates of the project's pipelines that fail from then on, each with why.</param>
public sealed record ShockedSlate(SlateProblem Problem, IReadOnlyList<string> Breaks);
