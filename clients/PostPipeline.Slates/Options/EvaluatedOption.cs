using PostPipeline.Studies.Outcomes;

namespace PostPipeline.Slates.Options;

/// <summary>A pipeline that a project may take, with its draws.</summary>
/// <param name="Outcome">What it gives alone, on the slate's farm and tiers.</param>
/// <param name="Stages">Its stages in order.</param>
/// <param name="Generations">What it keeps on storage.</param>
/// <param name="NotProven">Gates that are not known to pass.</param>
public sealed record EvaluatedOption(
    PipelineOutcome Outcome, IReadOnlyList<StageDraws> Stages, IReadOnlyList<GenerationDraws> Generations, IReadOnlyList<string> NotProven)
{
    /// <summary>Gates that fail after something happened, each with what it says; empty where nothing speaks against the pipeline.</summary>
    public IReadOnlyList<string> Fails { get; init; } = [];

    /// <summary>The pipeline.</summary>
    public string Pipeline => Outcome.Name;
}
