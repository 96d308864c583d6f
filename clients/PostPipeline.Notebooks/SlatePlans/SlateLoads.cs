using NodaTime;
using PostPipeline.Notebooks.Charts;
using PostPipeline.Slates.Options;
using PostPipeline.Slates.Planning;

namespace PostPipeline.Notebooks.SlatePlans;

/// <summary>What a plan takes of each thing that is shared, day by day.</summary>
public sealed class SlateLoads
{
    private readonly SlateProblem problem;
    private readonly SlatePlan plan;
    private readonly double farmHours;
    private readonly int days;

    /// <summary>The loads of a plan.</summary>
    /// <param name="problem">The slate as a planning problem.</param>
    /// <param name="plan">Its plan.</param>
    /// <param name="capacities">How many hours an open half-day of the farm has.</param>
    public SlateLoads(SlateProblem problem, SlatePlan plan, SlateCapacities capacities)
    {
        (this.problem, this.plan) = (problem, plan);
        farmHours = capacities.HoursOf("farm");
        days = Math.Min(problem.Clock.Slots / 2, (plan.Projects.Max(p => p.End) / 2) + 7);
    }

    /// <summary>Node-hours a day of each class of nodes.</summary>
    public IReadOnlyList<LoadPanel> Farm => [.. problem.Resources.Where(r => r.Kind == SlateResourceKind.FarmClass).Select(r => new LoadPanel(
        $"nodes: {r.Name}",
        "node-hours a day",
        FirstDay,
        [.. plan.Projects.Select(p => new LoadSeries(p.Project, ByDay(FarmSlots(p, r), (a, b) => (a + b) * farmHours)))],
        ByDay(Capacity(r), (a, b) => (a + b) * farmHours)))];

    /// <summary>TB on each tier that has a limit; the larger half of each day.</summary>
    public IReadOnlyList<LoadPanel> Storage => [.. problem.Resources.Where(r => r.Kind == SlateResourceKind.Storage).Select(r => new LoadPanel(
        $"{r.Name} storage",
        "TB",
        FirstDay,
        [.. plan.Projects.Select(p => new LoadSeries(p.Project, ByDay(StorageSlots(p, r), (a, b) => Math.Max(a, b) * SlateCapacities.StorageUnit / 1e12)))],
        ByDay(Capacity(r), (a, b) => Math.Min(a, b) * SlateCapacities.StorageUnit / 1e12)))];

    /// <summary>The calendar day of a half-day.</summary>
    /// <param name="clock">The slate's clock.</param>
    /// <param name="slot">The half-day.</param>
    public static DateOnly DateOf(SlateClock clock, int slot)
    {
        LocalDate date = clock.DateOf(slot);
        return new(date.Year, date.Month, date.Day);
    }

    /// <summary>The moment at which a half-day begins.</summary>
    /// <param name="clock">The slate's clock.</param>
    /// <param name="slot">The half-day; a part of one counts.</param>
    public static DateTime MomentOf(SlateClock clock, double slot) => DateOf(clock, 0).ToDateTime(TimeOnly.MinValue).AddHours(12 * slot);

    private DateOnly FirstDay => DateOf(problem.Clock, 0);

    private double[] FarmSlots(ProjectPlan project, SlateResource resource)
    {
        double[] slots = new double[problem.Clock.Slots];
        IReadOnlyList<bool>? open = OpenOf(resource);
        SlateOption option = OptionOf(project);
        foreach (StagePlan stage in project.Stages)
        {
            // What has been done of a stage whose nodes were lost holds them as a plain use.
            double nodes = stage.FarmClass == resource.Name
                ? stage.Nodes
                : option.Stages.First(s => s.Name == stage.Stage).Uses.Where(u => u.Resource == resource.Name).Sum(u => u.Amount);
            for (int slot = stage.Start; slot < stage.End && nodes > 0; slot++)
            {
                slots[slot] += open is null || open[slot] ? nodes : 0;
            }
        }

        return slots;
    }

    private double[] StorageSlots(ProjectPlan project, SlateResource resource)
    {
        double[] slots = new double[problem.Clock.Slots];
        foreach (GenerationLife life in OptionOf(project).Lives.Where(l => l.Storage == resource.Name))
        {
            int from = project.Stages.First(s => s.Stage == life.FromStage).Start;
            int until = Math.Min(slots.Length, project.Stages.First(s => s.Stage == life.UntilStage).End + life.LagSlots);
            for (int slot = from; slot < until; slot++)
            {
                slots[slot] += life.Amount;
            }
        }

        return slots;
    }

    private double[] Capacity(SlateResource resource)
    {
        IReadOnlyList<bool>? open = OpenOf(resource);
        return [.. Enumerable.Range(0, problem.Clock.Slots).Select(slot => open is null || open[slot]
            ? (double)Math.Max(0, resource.Capacity - resource.Outages.Where(o => o.From <= slot && slot < o.Until).Sum(o => o.Amount))
                + plan.Rentals.Where(r => r.Resource == resource.Name && r.From <= slot && slot < r.Until).Sum(r => r.Units)
            : 0)];
    }

    private IReadOnlyList<bool>? OpenOf(SlateResource resource) => problem.Calendars.FirstOrDefault(c => c.Name == resource.Calendar)?.Open;

    private SlateOption OptionOf(ProjectPlan project) => problem.Projects.First(p => p.Name == project.Project).Options.First(o => o.Pipeline == project.Pipeline);

    private double[] ByDay(double[] slots, Func<double, double, double> join) => [.. Enumerable.Range(0, days).Select(day => join(slots[2 * day], slots[(2 * day) + 1]))];
}
