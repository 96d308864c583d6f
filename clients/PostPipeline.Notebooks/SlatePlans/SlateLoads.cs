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
    private readonly PlanUse use;
    private readonly double farmHours;
    private readonly int days;

    /// <summary>The loads of a plan.</summary>
    /// <param name="problem">The slate as a planning problem.</param>
    /// <param name="plan">Its plan.</param>
    /// <param name="capacities">How many hours an open half-day of the farm has.</param>
    public SlateLoads(SlateProblem problem, SlatePlan plan, SlateCapacities capacities)
    {
        (this.problem, this.plan) = (problem, plan);
        use = new(problem, plan);
        farmHours = capacities.HoursOf("farm");
        days = Math.Min(problem.Clock.Slots / 2, (plan.Projects.Max(p => p.End) / 2) + 7);
    }

    /// <summary>Node-hours a day of each class of nodes.</summary>
    public IReadOnlyList<LoadPanel> Farm => [.. problem.Resources.Where(r => r.Kind == SlateResourceKind.FarmClass).Select(r => new LoadPanel(
        $"nodes: {r.Name}",
        "node-hours a day",
        FirstDay,
        [.. plan.Projects.Select(p => new LoadSeries(p.Project, ByDay(use.Worked(p, r), (a, b) => (a + b) * farmHours)))],
        ByDay(use.Capacity(r), (a, b) => (a + b) * farmHours)))];

    /// <summary>TB on each tier that has a limit; the larger half of each day.</summary>
    public IReadOnlyList<LoadPanel> Storage => [.. problem.Resources.Where(r => r.Kind == SlateResourceKind.Storage).Select(r => new LoadPanel(
        $"{r.Name} storage",
        "TB",
        FirstDay,
        [.. plan.Projects.Select(p => new LoadSeries(p.Project, ByDay(use.Kept(p, r), (a, b) => Math.Max(a, b) * SlateCapacities.StorageUnit / 1e12)))],
        ByDay(use.Capacity(r), (a, b) => Math.Min(a, b) * SlateCapacities.StorageUnit / 1e12)))];

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

    private double[] ByDay(double[] slots, Func<double, double, double> join) => [.. Enumerable.Range(0, days).Select(day => join(slots[2 * day], slots[(2 * day) + 1]))];
}
