namespace PostPipeline.Slates.Planning;

/// <summary>What each project of a plan takes of what is shared, half-day by half-day.</summary>
/// <param name="problem">The slate that was planned.</param>
/// <param name="plan">Its plan.</param>
public sealed class PlanUse(SlateProblem problem, SlatePlan plan)
{
    /// <summary>Units that a project's stages work with: in half-days that are closed to a stage it holds them, but does not work.</summary>
    /// <param name="project">The plan of a project.</param>
    /// <param name="resource">What works: a class of nodes, people, suites, a link, licences.</param>
    public double[] Worked(ProjectPlan project, SlateResource resource)
    {
        double[] slots = new double[problem.Clock.Slots];
        SlateOption option = OptionOf(project);
        foreach (StagePlan done in project.Stages)
        {
            SlateStage stage = option.Stages.First(s => s.Name == done.Stage);

            // What has been done of a stage whose nodes were lost holds them as a plain use.
            double units = stage.Uses.Where(u => u.Resource == resource.Name).Sum(u => (double)u.Amount);
            if (stage.Farm.FirstOrDefault(f => f.Resource == done.FarmClass) is { } farm)
            {
                units += done.FarmClass == resource.Name ? done.Nodes : 0;
                units += farm.PerNode.Where(u => u.Resource == resource.Name).Sum(u => (double)u.Amount) * done.Nodes;
            }

            if (units > 0)
            {
                Add(slots, done, units, CalendarsOf(stage, done.FarmClass));
            }
        }

        return slots;
    }

    /// <summary>Units of a tier that a project's generations hold.</summary>
    /// <param name="project">The plan of a project.</param>
    /// <param name="tier">The tier.</param>
    /// <param name="which">Which generations count; null for all.</param>
    public double[] Kept(ProjectPlan project, SlateResource tier, Func<GenerationLife, bool>? which = null)
    {
        double[] slots = new double[problem.Clock.Slots];
        foreach (GenerationLife life in OptionOf(project).Lives.Where(l => l.Storage == tier.Name && (which is null || which(l))))
        {
            (int from, int until) = Span(project, life);
            for (int slot = from; slot < until; slot++)
            {
                slots[slot] += life.Amount;
            }
        }

        return slots;
    }

    /// <summary>The half-days in which a project keeps a generation.</summary>
    /// <param name="project">The plan of a project.</param>
    /// <param name="life">One of its option's generations.</param>
    public (int From, int Until) Span(ProjectPlan project, GenerationLife life) => (
        project.Stages.First(s => s.Stage == life.FromStage).Start,
        Math.Min(problem.Clock.Slots, project.Stages.First(s => s.Stage == life.UntilStage).End + life.LagSlots));

    /// <summary>Units there are of a resource: what the house has, less what is away, with what the plan rents.</summary>
    /// <param name="resource">The resource.</param>
    public double[] Capacity(SlateResource resource)
    {
        IReadOnlyList<bool>? open = Open(resource.Calendar);
        return [.. Enumerable.Range(0, problem.Clock.Slots).Select(slot => open is null || open[slot]
            ? (double)Math.Max(0, resource.Capacity - resource.Outages.Where(o => o.From <= slot && slot < o.Until).Sum(o => o.Amount))
                + plan.Rentals.Where(r => r.Resource == resource.Name && r.From <= slot && slot < r.Until).Sum(r => r.Units)
            : 0)];
    }

    /// <summary>The pipeline that a project takes.</summary>
    /// <param name="project">The plan of a project.</param>
    public SlateOption OptionOf(ProjectPlan project) => problem.Projects.First(p => p.Name == project.Project).Options.First(o => o.Pipeline == project.Pipeline);

    private static void Add(double[] slots, StagePlan done, double units, List<IReadOnlyList<bool>> calendars)
    {
        for (int slot = done.Start; slot < done.End; slot++)
        {
            slots[slot] += calendars.TrueForAll(c => c[slot]) ? units : 0;
        }
    }

    private List<IReadOnlyList<bool>> CalendarsOf(SlateStage stage, string? farmClass)
    {
        IEnumerable<string> used = stage.Uses.Select(u => u.Resource)
            .Concat(stage.Farm.Where(f => f.Resource == farmClass).SelectMany(f => f.PerNode.Select(u => u.Resource).Append(f.Resource)));
        return [.. used.Select(u => problem.Resources.First(r => r.Name == u).Calendar).Append(stage.Calendar).Distinct().Select(Open).OfType<IReadOnlyList<bool>>()];
    }

    private IReadOnlyList<bool>? Open(string? calendar) => problem.Calendars.FirstOrDefault(c => c.Name == calendar)?.Open;
}
