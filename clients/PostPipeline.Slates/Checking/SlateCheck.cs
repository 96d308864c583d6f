using PostPipeline.Slates.Options;
using PostPipeline.Slates.Planning;

namespace PostPipeline.Slates.Checking;

/// <summary>
/// Whether the slate can hold what is due, before anything is planned: for every pair of a release and a due date, the work
/// that lies wholly inside against the capacity inside, resource by resource; and what storage holds at the earliest.
/// Where a pair breaks no order of work helps; where none does, one may still be missing.
/// </summary>
/// <remarks>The demand bound of scheduling with release dates and deadlines; common in the trade, no one source.</remarks>
public static class SlateCheck
{
    /// <summary>The breaks, the first date first, at P50 and P90; at most one a resource and level.</summary>
    /// <param name="evaluation">The slate.</param>
    /// <param name="pipelines">The pipeline of each project; null for each project's cheapest.</param>
    public static IReadOnlyList<CapacityBreak> Run(SlateEvaluation evaluation, IReadOnlyDictionary<string, string>? pipelines = null)
    {
        SlateProblemBuilder builder = new(evaluation);
        List<CapacityBreak> breaks = [];
        foreach (string level in new[] { "P50", "P90" })
        {
            SlateProblem problem = builder.Build(level);
            List<Demand> demands = [];
            Dictionary<string, long[]> stored = builder.Capacities.Resources.Where(r => r.Kind == SlateResourceKind.Storage).ToDictionary(r => r.Name, _ => new long[problem.Clock.Slots]);
            Dictionary<(string Tier, string Project), long> most = [];
            for (int p = 0; p < problem.Projects.Count; p++)
            {
                SlateProject project = problem.Projects[p];
                SlateOption option = pipelines is not null && pipelines.TryGetValue(project.Name, out string? taken)
                    ? project.Options.First(o => o.Pipeline == taken) : project.Options[0];
                new Walk(problem, project, option, evaluation.Slate).Add(demands, stored, most);
            }

            foreach (SlateResource resource in problem.Resources)
            {
                CapacityBreak? first = resource.Kind == SlateResourceKind.Storage
                    ? Storage(level, resource, stored[resource.Name], most, evaluation)
                    : Pairs(level, problem, resource, [.. demands.Where(d => d.Resource == resource.Name)], evaluation);
                if (first is not null)
                {
                    breaks.Add(first);
                }
            }
        }

        return [.. breaks.OrderBy(b => b.Until).ThenBy(b => b.Level, StringComparer.Ordinal)];
    }

    /// <summary>The first pair that breaks, or null. Public so that a worked example can be held against it.</summary>
    /// <param name="demands">Work with its release, its due slot and how many units it can use at once.</param>
    /// <param name="capacity">Units in each slot.</param>
    public static (int From, int Until, double Inside, double Capacity)? FirstBreak(IReadOnlyList<Demand> demands, IReadOnlyList<double> capacity)
    {
        (int From, int Until, double Inside, double Capacity)? first = null;
        foreach (int from in demands.Select(d => d.From).Distinct().Order())
        {
            double inside = 0;
            double most = 0;
            foreach (Demand next in demands.Where(d => d.From >= from).OrderBy(d => d.Until))
            {
                inside += next.Work;
                most += next.Most;
                double can = 0;
                for (int slot = from; slot < next.Until; slot++)
                {
                    can += Math.Min(capacity[slot], most);
                }

                bool earlier = first is null || next.Until < first.Value.Until || (next.Until == first.Value.Until && inside - can > first.Value.Inside - first.Value.Capacity);
                if (inside > can + 1e-9 && earlier)
                {
                    first = (from, next.Until, inside, can);
                }
            }
        }

        return first;
    }

    private static CapacityBreak? Pairs(string level, SlateProblem problem, SlateResource resource, List<Demand> demands, SlateEvaluation evaluation)
    {
        SlateCalendar? calendar = problem.Calendars.FirstOrDefault(c => c.Name == resource.Calendar);
        double[] capacity = [.. Enumerable.Range(0, problem.Clock.Slots).Select(slot => calendar is null || calendar.Open[slot]
            ? (double)Math.Max(0, resource.Capacity - resource.Outages.Where(o => o.From <= slot && slot < o.Until).Sum(o => o.Amount)) : 0)];
        return FirstBreak(demands, capacity) is var (from, until, inside, can)
            ? new(level, resource.Name, $"{resource.Unit.TrimEnd('s')}-half-days", from, until, inside, can, ByPriority(demands.Where(d => d.From >= from && d.Until <= until).Select(d => d.Project), evaluation))
            : null;
    }

    private static CapacityBreak? Storage(
        string level, SlateResource resource, long[] stored, Dictionary<(string Tier, string Project), long> most, SlateEvaluation evaluation)
    {
        int slot = Array.FindIndex(stored, s => s > resource.Capacity);
        int end = slot < 0 ? slot : Array.FindIndex(stored, slot, s => s <= resource.Capacity);
        return slot < 0
            ? null
            : new(level, resource.Name, "TB", slot, end < 0 ? stored.Length : end, stored[slot] / 10.0, resource.Capacity / 10.0, ByPriority(most.Where(m => m.Key.Tier == resource.Name && m.Value > 0).Select(m => m.Key.Project), evaluation));
    }

    private static IReadOnlyList<string> ByPriority(IEnumerable<string> projects, SlateEvaluation evaluation) =>
        [.. projects.Distinct().OrderBy(p => evaluation.Slate.Projects.First(e => e.Name == p).Priority)];

    /// <summary>Earliest starts from the front, latest ends from the due date, at the fastest mode of each stage.</summary>
    private sealed class Walk(SlateProblem problem, SlateProject project, SlateOption option, Files.Slate slate)
    {
        public void Add(List<Demand> demands, Dictionary<string, long[]> stored, Dictionary<(string Tier, string Project), long> most)
        {
            Dictionary<string, (int Start, int End)> early = [];
            foreach (SlateStage stage in option.Stages)
            {
                int start = Math.Max(stage.NotBefore, stage.After.Select(a => early[a.Stage].End + a.LagSlots).DefaultIfEmpty(0).Max());
                early[stage.Name] = (start, Math.Min(problem.Clock.Slots, start + Fastest(stage)));
            }

            Dictionary<string, int> latest = option.Stages.ToDictionary(s => s.Name, _ => project.Due);
            foreach (SlateStage stage in option.Stages.Reverse())
            {
                foreach (StageWait wait in stage.After)
                {
                    latest[wait.Stage] = Math.Min(latest[wait.Stage], latest[stage.Name] - Fastest(stage) - wait.LagSlots);
                }
            }

            foreach (SlateStage stage in option.Stages)
            {
                (int from, int until) = (early[stage.Name].Start, Math.Max(latest[stage.Name], early[stage.Name].Start));
                demands.AddRange(stage.Uses.Where(_ => stage.Duration > 0).Select(u => new Demand(project.Name, u.Resource, from, until, u.Amount * stage.Duration, u.Amount)));

                // A stage that could run on several classes is counted where it is the only one, or on the class it is fastest on.
                FarmChoice? farm = stage.Farm.MinBy(f => f.NodeHalfDays / f.NodeCounts.Max());
                if (farm is not null)
                {
                    int nodes = slate.Farm.Nodes.First(n => n.Name == farm.Resource).Count;
                    demands.Add(new(project.Name, farm.Resource, from, until, farm.NodeHalfDays, nodes));
                }
            }

            foreach (GenerationLife life in option.Lives)
            {
                most[(life.Storage, project.Name)] = life.Amount + most.GetValueOrDefault((life.Storage, project.Name));
                int until = Math.Min(problem.Clock.Slots, early[life.UntilStage].End + life.LagSlots);
                for (int slot = early[life.FromStage].Start; slot < until; slot++)
                {
                    stored[life.Storage][slot] += life.Amount;
                }
            }
        }

        private static int Fastest(SlateStage stage) => stage.Farm.Count > 0 ? stage.Farm.Min(f => f.NodeCounts.Min(f.Duration)) : stage.Duration;
    }
}
