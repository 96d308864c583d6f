namespace PostPipeline.Slates.Planning;

/// <summary>A slate on its way: what its plan has started by now is fixed, and what changes is planned again around it.</summary>
public static class RunningSlate
{
    /// <summary>
    /// The slate as it stands at a half-day of its plan. Stages that have started keep their start, their farm class and
    /// their nodes, and their projects keep their pipelines. Where nodes that a stage runs on are lost from now on, what it
    /// has done counts, and the rest of it is a stage of its own.
    /// </summary>
    /// <param name="problem">The slate, with what has changed.</param>
    /// <param name="running">The plan that is followed.</param>
    /// <param name="now">The half-day that it is.</param>
    public static SlateProblem At(SlateProblem problem, SlatePlan running, int now) => problem with
    {
        Now = now,
        Projects = [.. problem.Projects.Select(p => running.Projects.FirstOrDefault(r => r.Project == p.Name) is ProjectPlan plan ? At(problem, p, plan, now) : p)],
    };

    /// <summary>Plans again with the fewest changes, after lateness, extras and money.</summary>
    /// <param name="problem">The slate, with what has changed.</param>
    /// <param name="running">The plan that is followed.</param>
    /// <param name="now">The half-day that it is.</param>
    /// <param name="settings">How long and how.</param>
    /// <param name="progress">Told of what is reached. May be null.</param>
    /// <param name="cancellation">Ends the search.</param>
    public static PlanAnswer Replan(
        SlateProblem problem,
        SlatePlan running,
        int now,
        PlanSettings settings,
        IProgress<PlanProgress>? progress = null,
        CancellationToken cancellation = default) =>
        SlatePlanner.Plan(At(problem, running, now), settings, running, progress, cancellation);

    private static SlateProject At(SlateProblem problem, SlateProject project, ProjectPlan plan, int now)
    {
        return project with { Options = [.. project.Options.Select(o => o.Pipeline == plan.Pipeline ? At(problem, o, plan, now) : o)] };
    }

    private static SlateOption At(SlateProblem problem, SlateOption option, ProjectPlan plan, int now)
    {
        foreach (StagePlan started in plan.Stages.Where(s => s.Start < now))
        {
            SlateStage? stage = option.Stages.FirstOrDefault(s => s.Name == started.Stage);
            if (stage is null)
            {
                continue;
            }

            SlateStage held = stage with { StartedAt = started.Start, StartedOn = started.FarmClass, StartedNodes = started.FarmClass is null ? null : started.Nodes };
            option = started.End > now && started.FarmClass is not null && Lost(problem, started, now)
                ? Split(problem, option, stage, started, now)
                : option with { Stages = [.. option.Stages.Select(s => s == stage ? held : s)] };
        }

        return option;
    }

    private static bool Lost(SlateProblem problem, StagePlan started, int now)
    {
        SlateResource? farm = problem.Resources.FirstOrDefault(r => r.Name == started.FarmClass);
        return farm is null || Enumerable.Range(now, started.End - now)
            .Any(slot => farm.Capacity - farm.Outages.Where(o => o.From <= slot && slot < o.Until).Sum(o => o.Amount) < started.Nodes);
    }

    private static SlateOption Split(SlateProblem problem, SlateOption option, SlateStage stage, StagePlan started, int now)
    {
        SlateResource? farm = problem.Resources.FirstOrDefault(r => r.Name == started.FarmClass);
        SlateCalendar? calendar = problem.Calendars.FirstOrDefault(c => c.Name == farm?.Calendar);
        int worked = Enumerable.Range(started.Start, now - started.Start).Count(slot => calendar is null || calendar.Open[slot]);
        FarmChoice on = stage.Farm.First(f => f.Resource == started.FarmClass);
        double left = Math.Max(0.01, 1 - (worked * started.Nodes / on.NodeHalfDays));
        string rest = $"{stage.Name} (rest)";
        SlateStage done = stage with
        {
            Farm = [],
            Duration = worked,
            Uses = [.. stage.Uses, new(started.FarmClass!, started.Nodes), .. on.PerNode.Select(u => u with { Amount = u.Amount * started.Nodes })],
            StartedAt = started.Start,
        };
        SlateStage next = stage with
        {
            Name = rest,
            After = [new(stage.Name)],
            Farm = [.. stage.Farm.Select(f => f with { NodeHalfDays = f.NodeHalfDays * left })],
        };
        return option with
        {
            Stages =
            [
                .. option.Stages.Select(s => s == stage ? done : s with { After = [.. s.After.Select(a => a.Stage == stage.Name ? a with { Stage = rest } : a)] }),
                next,
            ],
            Lives = [.. option.Lives.Select(l => l.UntilStage == stage.Name ? l with { UntilStage = rest } : l)],
        };
    }
}
