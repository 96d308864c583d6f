namespace PostPipeline.Slates.Planning;

/// <summary>A plan that keeps every limit.</summary>
/// <param name="Projects">One for each project, in the order of the problem.</param>
/// <param name="Rentals">What is rented.</param>
/// <param name="Levels">How far each level was brought.</param>
public sealed record SlatePlan(IReadOnlyList<ProjectPlan> Projects, IReadOnlyList<RentalPlan> Rentals, IReadOnlyList<PlanLevelResult> Levels)
{
    /// <summary>The plan of a project.</summary>
    /// <param name="project">Its name.</param>
    public ProjectPlan Of(string project) => Projects.First(p => p.Project == project);

    /// <summary>The value of a level; 0 where the level did not arise.</summary>
    /// <param name="level">The level.</param>
    public long Value(PlanLevel level) => Levels.FirstOrDefault(l => l.Level == level)?.Value ?? 0;
}
