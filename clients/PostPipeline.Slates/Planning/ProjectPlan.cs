namespace PostPipeline.Slates.Planning;

/// <summary>What was decided for a project.</summary>
/// <param name="Project">Its name.</param>
/// <param name="Pipeline">Name of the option taken.</param>
/// <param name="Stages">Its stages, in the order of the option.</param>
/// <param name="LateSlots">Half-days after its due date, 0 or more.</param>
/// <param name="Money">Money of the option.</param>
public sealed record ProjectPlan(string Project, string Pipeline, IReadOnlyList<StagePlan> Stages, int LateSlots, long Money)
{
    /// <summary>The half-day at which all its stages have ended.</summary>
    public int End => Stages.Max(s => s.End);
}
