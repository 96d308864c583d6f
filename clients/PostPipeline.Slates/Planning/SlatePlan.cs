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

    /// <summary>What all rentals cost.</summary>
    public long Rented => Rentals.Sum(r => r.Price);

    /// <summary>Stages of a project that start at another time than in an earlier plan, or were not in it.</summary>
    /// <param name="before">The earlier plan.</param>
    /// <param name="project">The project.</param>
    public IReadOnlyList<string> Moved(SlatePlan before, string project) => [.. Of(project).Stages
        .Where(s => before.Of(project).Stages.FirstOrDefault(b => b.Stage == s.Stage)?.Start != s.Start)
        .Select(s => s.Stage)];
}
