namespace PostPipeline.Slates.Planning;

/// <summary>What can happen to a slate, each as a slate that it happened to.</summary>
public static class SlateShocks
{
    /// <summary>A project starts later, with the calendars that only its own stages have; its due date stays.</summary>
    /// <param name="problem">The slate.</param>
    /// <param name="project">The project.</param>
    /// <param name="slots">Half-days, 0 or more; a week is 14.</param>
    public static SlateProblem Slip(SlateProblem problem, string project, int slots)
    {
        HashSet<string?> shared = [.. problem.Resources.Select(r => r.Calendar), .. problem.Projects.Where(p => p.Name != project).SelectMany(CalendarsOf)];
        HashSet<string?> own = [.. problem.Projects.Where(p => p.Name == project).SelectMany(CalendarsOf).Where(c => !shared.Contains(c))];
        SlateProblem slipped = Change(problem, project, p => p with
        {
            Release = p.Release + slots,
            Options = [.. p.Options.Select(o => o with { Stages = [.. o.Stages.Select(s => s.NotBefore > 0 ? s with { NotBefore = s.NotBefore + slots } : s)] })],
        });
        return slipped with
        {
            Calendars = [.. slipped.Calendars.Select(c => own.Contains(c.Name)
                ? c with { Open = [.. Enumerable.Range(0, c.Open.Count).Select(slot => slot >= slots && c.Open[slot - slots])] } : c)],
        };
    }

    /// <summary>A delivery moves.</summary>
    /// <param name="problem">The slate.</param>
    /// <param name="project">The project.</param>
    /// <param name="due">Its new due half-day.</param>
    public static SlateProblem MoveDue(SlateProblem problem, string project, int due) => Change(problem, project, p => p with { Due = due });

    /// <summary>A project's pipelines take something else than they did.</summary>
    /// <param name="problem">The slate.</param>
    /// <param name="project">The project.</param>
    /// <param name="options">Its pipelines, 1 or more.</param>
    public static SlateProblem Replace(SlateProblem problem, string project, IReadOnlyList<SlateOption> options) =>
        Change(problem, project, p => p with { Options = options });

    /// <summary>Units of a resource are lost, until the end of the slate.</summary>
    /// <param name="problem">The slate.</param>
    /// <param name="resource">The resource.</param>
    /// <param name="amount">Units.</param>
    /// <param name="from">First half-day without them.</param>
    public static SlateProblem Lose(SlateProblem problem, string resource, long amount, int from)
    {
        if (problem.Resources.All(r => r.Name != resource))
        {
            throw new ArgumentException($"'{resource}' is not a resource of the slate.", nameof(resource));
        }

        return problem with
        {
            Resources = [.. problem.Resources.Select(r => r.Name == resource
                ? r with { Outages = [.. r.Outages, new(from, problem.Clock.Slots, amount, "lost")] } : r)],
        };
    }

    private static IEnumerable<string?> CalendarsOf(SlateProject project) => project.Options.SelectMany(o => o.Stages).Select(s => s.Calendar);

    private static SlateProblem Change(SlateProblem problem, string project, Func<SlateProject, SlateProject> change)
    {
        if (problem.Projects.All(p => p.Name != project))
        {
            throw new ArgumentException($"'{project}' is not a project of the slate.", nameof(project));
        }

        return problem with { Projects = [.. problem.Projects.Select(p => p.Name == project ? change(p) : p)] };
    }
}
