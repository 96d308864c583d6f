namespace PostPipeline.Slates.Planning;

/// <summary>A pipeline that a project may take.</summary>
/// <param name="Pipeline">Its name; unique in its project.</param>
/// <param name="Stages">Its stages, 1 or more, in any order.</param>
public sealed record SlateOption(string Pipeline, IReadOnlyList<SlateStage> Stages)
{
    /// <summary>Generations that it keeps on storage.</summary>
    public IReadOnlyList<GenerationLife> Lives { get; init; } = [];

    /// <summary>What it costs, in whole currency units, 0 or more.</summary>
    public long Money { get; init; }
}
