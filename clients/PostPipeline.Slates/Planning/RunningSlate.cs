namespace PostPipeline.Slates.Planning;

/// <summary>A slate on its way: what its plan has started by now is fixed, and what changes is planned again around it.</summary>
public static class RunningSlate
{
    /// <summary>
    /// The slate as it stands at a half-day of its plan. Stages that have started keep their start, their farm class and
    /// their nodes, and their projects keep their pipelines. Where nodes that a stage runs on are lost from now on, what it
    /// has done counts, and the rest of it is a stage of its own. What has been ordered by now is there as the plan rents it.
    /// </summary>
    /// <param name="problem">The slate, with what has changed.</param>
    /// <param name="running">The plan that is followed.</param>
    /// <param name="now">The half-day that it is.</param>
    public static SlateProblem At(SlateProblem problem, SlatePlan running, int now)
    {
        ILookup<string, RentalPlan> ordered = Ordered(problem, running, now).ToLookup(r => r.Resource);
        SlateProblem there = problem with { Now = now, Resources = [.. problem.Resources.Select(r => With(r, [.. ordered[r.Name]], problem.Clock.Slots))] };
        return there with
        {
            Projects = [.. problem.Projects.Select(p => running.Projects.FirstOrDefault(r => r.Project == p.Name) is ProjectPlan plan ? At(there, p, plan, now) : p)],
        };
    }

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
        CancellationToken cancellation = default) => Replan(problem, running, now, settings, running, progress, cancellation);

    /// <summary>The same from a plan to start from that need not be the one that is followed.</summary>
    internal static PlanAnswer Replan(
        SlateProblem problem, SlatePlan running, int now, PlanSettings settings, SlatePlan start, IProgress<PlanProgress>? progress, CancellationToken cancellation)
    {
        SlateProblem at = At(problem, running, now);
        SlateChecking.Check(at);
        PlanAnswer answer = SlatePlanner.Solve(at, new(at, running), settings, true, start, progress, cancellation);
        IReadOnlyList<RentalPlan> ordered = Ordered(problem, running, now);
        return answer.Plan is { } plan && ordered.Count > 0 ? answer with { Plan = WithOrdered(plan, ordered) } : answer;
    }

    // A unit takes its lead from the order to its first use, so what works before now and a lead has been ordered: it is
    // there and paid for whatever is planned.
    private static IReadOnlyList<RentalPlan> Ordered(SlateProblem problem, SlatePlan running, int now) =>
        [.. running.Rentals.Where(r => problem.Resources.FirstOrDefault(x => x.Name == r.Resource)?.Rental is { } rental && r.From < now + rental.LeadSlots)];

    // Units for a while are units for ever that are away for the rest of the time.
    private static SlateResource With(SlateResource resource, RentalPlan[] ordered, int slots)
    {
        if (ordered.Length == 0)
        {
            return resource;
        }

        long[] units = [.. Enumerable.Range(0, slots).Select(slot => ordered.Where(r => r.From <= slot && slot < r.Until).Sum(r => r.Units))];
        long most = units.Max();
        List<SlateOutage> outages = [.. resource.Outages];
        for (int from = 0, slot = 1; slot <= slots; slot++)
        {
            if (slot == slots || units[slot] != units[from])
            {
                if (units[from] < most)
                {
                    outages.Add(new(from, slot, most - units[from], "not rented"));
                }

                from = slot;
            }
        }

        return resource with { Capacity = checked(resource.Capacity + most), Outages = outages };
    }

    private static SlatePlan WithOrdered(SlatePlan plan, IReadOnlyList<RentalPlan> ordered)
    {
        long price = ordered.Sum(r => r.Price);
        return plan with
        {
            Rentals = [.. ordered.Concat(plan.Rentals).OrderBy(r => r.Resource, StringComparer.Ordinal).ThenBy(r => r.From)],
            Levels = [.. plan.Levels.Select(l => l.Level == PlanLevel.Extras ? l with { Value = l.Value + price, Bound = l.Bound + price } : l)],
        };
    }

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
