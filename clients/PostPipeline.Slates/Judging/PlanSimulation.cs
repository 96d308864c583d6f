using PostPipeline.Slates.Options;
using PostPipeline.Slates.Planning;
using PostPipeline.Studies.Outcomes;

namespace PostPipeline.Slates.Judging;

/// <summary>
/// Runs a planned slate on draws: pipelines, farm classes, nodes and the order of stages are the plan's, durations are
/// drawn, and each stage starts as soon as what it waits for is done and what it needs is free. The planner works on
/// quantiles; this says how sure each date is.
/// </summary>
/// <remarks>The serial schedule generation scheme (Kelley 1963) in the order of planned starts. Storage is not held against its limit here.</remarks>
public sealed class PlanSimulation
{
    private readonly SlateEvaluation evaluation;
    private readonly SlateProblemBuilder builder;
    private readonly SlatePlan plan;
    private readonly int now;
    private readonly Dictionary<string, int> places;
    private readonly long[][] capacity;
    private readonly bool[][] open;
    private readonly int slots;

    /// <summary>Prepares a simulation.</summary>
    /// <param name="evaluation">The slate.</param>
    /// <param name="builder">Its mapping.</param>
    /// <param name="plan">The plan.</param>
    /// <param name="now">The half-day that it is: what starts before it has started when the plan says.</param>
    public PlanSimulation(SlateEvaluation evaluation, SlateProblemBuilder builder, SlatePlan plan, int now = 0)
    {
        (this.evaluation, this.builder, this.plan, this.now) = (evaluation, builder, plan, now);
        slots = builder.Time.Clock.Slots;
        IReadOnlyList<SlateResource> resources = builder.Capacities.Resources;
        places = resources.Select((r, i) => (r.Name, i)).ToDictionary(p => p.Name, p => p.i, StringComparer.Ordinal);
        capacity = [.. resources.Select(Capacity)];
        open = [.. resources.Select(r => builder.Capacities.Calendars.FirstOrDefault(c => c.Name == r.Calendar) is { } calendar
            ? calendar.Open.Take(slots).ToArray() : [.. Enumerable.Repeat(true, slots)])];
    }

    /// <summary>Runs all draws.</summary>
    /// <param name="cancellation">Ends the computation.</param>
    public IReadOnlyList<JudgedProject> Run(CancellationToken cancellation = default)
    {
        double[][] ends = [.. plan.Projects.Select(_ => new double[evaluation.Draws])];
        for (int draw = 0; draw < evaluation.Draws; draw++)
        {
            cancellation.ThrowIfCancellationRequested();
            RunDraw(draw, ends);
        }

        return [.. plan.Projects.Select((p, i) => new JudgedProject(
            p.Project,
            p.Pipeline,
            Probability.AtMost(ends[i], builder.Time.Clock.EndOf(evaluation.Projects[i].Entry.Due)),
            Studies.Outcomes.Range.Of(ends[i])))];
    }

    private void RunDraw(int draw, double[][] ends)
    {
        long[][] free = [.. capacity.Select(c => c.ToArray())];
        Dictionary<(int Project, string Stage), int> ended = [];
        List<(int Project, SlateStage Stage, StagePlan Plan)> order = [];
        for (int p = 0; p < plan.Projects.Count; p++)
        {
            EvaluatedProject project = evaluation.Projects[p];
            SlateOption drawn = builder.Option(project, project.Of(plan.Projects[p].Pipeline), values => values[draw]);
            order.AddRange(drawn.Stages.Select(s => (p, s, plan.Projects[p].Stages.First(x => x.Stage == s.Name))));
        }

        // Stages of no length may share a start with what they wait for: the order of the option breaks the tie.
        foreach ((int project, SlateStage stage, StagePlan planned) in order.OrderBy(o => o.Plan.Start).ThenBy(o => o.Plan.End))
        {
            int from = stage.NotBefore;
            foreach (StageWait wait in stage.After)
            {
                from = Math.Max(from, ended.GetValueOrDefault((project, wait.Stage), 0) + wait.LagSlots);
            }

            from = planned.Start < now ? planned.Start : Math.Max(now, from);
            int end = Place(free, stage, planned, from);
            ended[(project, stage.Name)] = end;
            ends[project][draw] = Math.Max(ends[project][draw], end);
        }
    }

    private int Place(long[][] free, SlateStage stage, StagePlan planned, int from)
    {
        FarmChoice? farm = stage.Farm.FirstOrDefault(f => f.Resource == planned.FarmClass);
        int duration = farm is null ? stage.Duration : farm.Duration(planned.Nodes);
        List<(int Resource, long Amount)> uses = [.. stage.Uses.Select(u => (places[u.Resource], u.Amount))];
        if (farm is not null)
        {
            uses.Add((places[farm.Resource], planned.Nodes));
            uses.AddRange(farm.PerNode.Select(u => (places[u.Resource], u.Amount * planned.Nodes)));
        }

        if (duration == 0)
        {
            return Math.Min(from, slots);
        }

        for (int start = from; start < slots; start++)
        {
            if (End(start, duration, uses) is not int end)
            {
                break;
            }

            int clash = uses.Count == 0 ? -1 : LastClash(free, uses, start, end);
            if (clash < 0)
            {
                foreach ((int resource, long amount) in uses)
                {
                    for (int slot = start; slot < end; slot++)
                    {
                        free[resource][slot] -= amount;
                    }
                }

                return end;
            }

            start = clash;
        }

        return slots;
    }

    private int? End(int start, int duration, List<(int Resource, long Amount)> uses)
    {
        for (int slot = start, left = duration; slot < slots; slot++)
        {
            left -= uses.TrueForAll(u => open[u.Resource][slot]) ? 1 : 0;
            if (left == 0)
            {
                return slot + 1;
            }
        }

        return null;
    }

    private static int LastClash(long[][] free, List<(int Resource, long Amount)> uses, int start, int end)
    {
        for (int slot = end - 1; slot >= start; slot--)
        {
            foreach ((int resource, long amount) in uses)
            {
                if (free[resource][slot] < amount)
                {
                    return slot;
                }
            }
        }

        return -1;
    }

    private long[] Capacity(SlateResource resource)
    {
        long[] units = new long[slots];
        for (int slot = 0; slot < slots; slot++)
        {
            long away = resource.Outages.Where(o => o.From <= slot && slot < o.Until).Sum(o => o.Amount);
            long rented = plan.Rentals.Where(r => r.Resource == resource.Name && r.From <= slot && slot < r.Until).Sum(r => r.Units);
            units[slot] = Math.Max(0, resource.Capacity - away) + rented;
        }

        return units;
    }
}
