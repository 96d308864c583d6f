using PostPipeline.Slates.Scheduling;
using PostPipeline.Slates.Searching;
using PostPipeline.Studies.Printing;

namespace PostPipeline.Slates.Planning;

/// <summary>
/// Why each project got its pipeline: the slate is planned again with another one, from the plan at hand, and the first
/// level that worsens is the reason. Planned for a short time, so that what is said is what the planner found and not a proof.
/// </summary>
public static class SlateReasons
{
    /// <summary>The reasons of one project; none where it has started and cannot take another.</summary>
    /// <param name="problem">The slate.</param>
    /// <param name="plan">Its plan.</param>
    /// <param name="project">Name of the project.</param>
    /// <param name="settings">How long, for all its other pipelines together, and how.</param>
    /// <param name="cancellation">Ends the search.</param>
    /// <exception cref="ArgumentException">There is no such project.</exception>
    public static PipelineReason Of(SlateProblem problem, SlatePlan plan, string project, PlanSettings settings, CancellationToken cancellation = default)
    {
        SlateProject definition = problem.Projects.FirstOrDefault(p => p.Name == project)
            ?? throw new ArgumentException($"'{project}' is not a project of the slate.", nameof(project));
        string taken = plan.Of(project).Pipeline;
        if (definition.Options.Any(o => o.Stages.Any(s => s.StartedAt is not null)))
        {
            return new(project, taken, []);
        }

        List<SlateOption> others = [.. definition.Options.Where(o => o.Pipeline != taken)];
        PlanSettings each = settings with { Seconds = Math.Max(0.1, settings.Seconds / Math.Max(1, others.Count) / 2), Exact = false };
        return new(project, taken, [.. others.Select(o => Compare(problem, plan, project, o, each, cancellation))]);
    }

    /// <summary>The reasons of all projects.</summary>
    /// <param name="problem">The slate.</param>
    /// <param name="plan">Its plan.</param>
    /// <param name="settings">How long, for all projects together, and how.</param>
    /// <param name="cancellation">Ends the search.</param>
    public static IReadOnlyList<PipelineReason> OfAll(SlateProblem problem, SlatePlan plan, PlanSettings settings, CancellationToken cancellation = default)
    {
        PlanSettings each = settings with { Seconds = Math.Max(0.1, settings.Seconds / problem.Projects.Count) };
        return [.. problem.Projects.Select(p => Of(problem, plan, p.Name, each, cancellation))];
    }

    private static Alternative Compare(SlateProblem problem, SlatePlan plan, string project, SlateOption option, PlanSettings settings, CancellationToken cancellation)
    {
        SlateMapping mapping = new(problem, null, new Dictionary<string, string> { [project] = option.Pipeline });
        PlanAnswer answer = SlatePlanner.Solve(problem, mapping, settings, false, plan, null, cancellation);
        if (answer.Plan is not SlatePlan other)
        {
            string obstacle = answer.Obstacles.FirstOrDefault(o => o.StartsWith(project, StringComparison.Ordinal)) ?? (answer.Obstacles.Count > 0 ? answer.Obstacles[0] : "no plan was found in the time given");
            return new(option.Pipeline, PlanLevel.Lateness, 0, obstacle, $"with {option.Pipeline} there is no plan: {obstacle}");
        }

        foreach (PlanLevelResult level in other.Levels.Where(l => l.Level != PlanLevel.Changes))
        {
            long by = level.Value - plan.Value(level.Level);
            if (by < 0)
            {
                break;
            }

            if (by > 0)
            {
                string? limit = level.Level switch
                {
                    PlanLevel.Money => null,
                    PlanLevel.Extras => MoreRented(plan, other),
                    _ => LateLimit(problem, plan, project, option, level.Level, settings, cancellation),
                };
                return new(option.Pipeline, level.Level, by, limit, Sentence(plan, other, option.Pipeline, level.Level, by, limit));
            }
        }

        return new(option.Pipeline, null, 0, null, $"with {option.Pipeline} nothing would be worse");
    }

    private static string Sentence(SlatePlan plan, SlatePlan other, string pipeline, PlanLevel level, long by, string? limit)
    {
        string behind = limit is null ? string.Empty : $"; the limit is {limit}";
        IEnumerable<string> late = other.Projects.Where(p => p.LateSlots > plan.Of(p.Project).LateSlots)
            .Select(p => $"{p.Project} {p.LateSlots - plan.Of(p.Project).LateSlots} half-days later");
        return level switch
        {
            PlanLevel.Money => $"with {pipeline} the pipelines cost {Numbers.Three(by)} more",
            PlanLevel.Extras => $"with {pipeline} what is rented costs {Numbers.Three(by)} more{behind}",
            _ => $"with {pipeline} dates give way: {string.Join(", ", late)}{behind}",
        };
    }

    private static string? MoreRented(SlatePlan plan, SlatePlan other) =>
        other.Rentals.Concat(plan.Rentals).Select(r => r.Resource).Distinct()
            .Select(r => (Resource: r, More: other.Rentals.Where(x => x.Resource == r).Sum(x => x.Price) - plan.Rentals.Where(x => x.Resource == r).Sum(x => x.Price)))
            .Where(m => m.More > 0).OrderByDescending(m => m.More).Select(m => m.Resource).FirstOrDefault();

    // The resource without whose limit the other pipeline would not make dates worse; the project's own length where it would even alone.
    private static string? LateLimit(SlateProblem problem, SlatePlan plan, string project, SlateOption option, PlanLevel level, PlanSettings settings, CancellationToken cancellation)
    {
        SlateMapping mapping = new(problem, null);
        SearchIndex index = SearchIndex.TryCreate(mapping.Schedule)!;
        int place = problem.Projects.ToList().FindIndex(p => p.Name == project);
        int way = problem.Projects[place].Options.ToList().IndexOf(option);
        if (new OptionWindows(index).Lateness(index.Options[mapping.OptionPlace(place, way)]).Sum() > 0)
        {
            return "the project's own length";
        }

        List<string> used = [.. option.Stages.SelectMany(s => s.Farm.Select(f => f.Resource).Concat(s.Uses.Select(u => u.Resource)))
            .Concat(option.Lives.Select(l => l.Storage)).Distinct()];
        foreach (string resource in used)
        {
            SlateProblem relaxed = problem with
            {
                Resources = [.. problem.Resources.Select(r => r.Name == resource ? r with { Capacity = checked((r.Capacity + 1) * 10), Outages = [] } : r)],
            };
            SlateMapping forced = new(relaxed, null, new Dictionary<string, string> { [project] = option.Pipeline });
            PlanAnswer answer = SlatePlanner.Solve(relaxed, forced, settings with { Seconds = Math.Max(0.1, settings.Seconds / used.Count) }, false, plan, null, cancellation);
            if (answer.Plan is SlatePlan other && other.Value(level) <= plan.Value(level))
            {
                return resource;
            }
        }

        return "several resources together";
    }
}
