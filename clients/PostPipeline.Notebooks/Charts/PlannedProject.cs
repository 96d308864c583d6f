namespace PostPipeline.Notebooks.Charts;

/// <summary>A project of a plan.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Pipeline">The pipeline that it takes.</param>
/// <param name="Due">When it is due.</param>
/// <param name="Stages">Its stages.</param>
/// <param name="LateEnd">Its late end (P90), where the plan was run on draws.</param>
public sealed record PlannedProject(string Name, string Pipeline, DateTime Due, IReadOnlyList<PlannedStage> Stages, DateTime? LateEnd = null)
{
    /// <summary>When its last stage ends.</summary>
    public DateTime End => Stages.Max(s => s.End);
}
