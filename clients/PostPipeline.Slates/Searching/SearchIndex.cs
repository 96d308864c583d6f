using PostPipeline.Slates.Scheduling;

namespace PostPipeline.Slates.Searching;

/// <summary>
/// A problem of choices laid out for fast planning: every task belongs to an option, options wait only for themselves.
/// A slate has this form; a problem without choices has not, and is left to the constraint solver alone.
/// </summary>
internal sealed class SearchIndex
{
    private SearchIndex(ScheduleProblem problem)
    {
        Problem = problem;
        Horizon = problem.Horizon;
        Base = [.. problem.Resources.Select(r => Enumerable.Repeat(r.Capacity, Horizon).ToArray())];
        foreach (FixedUse closed in problem.FixedUses)
        {
            for (int slot = closed.From; slot < closed.Until; slot++)
            {
                Base[closed.Use.Resource][slot] -= closed.Use.Amount;
            }
        }

        Rentals = [.. problem.Resources.Select((r, place) => (place, Periods: r.ExtraPeriods(Horizon))).Where(r => r.Periods.Count > 0)
            .Select(r => new SearchRental(r.place, problem.Resources[r.place].ExtraPrice, problem.Resources[r.place].MostExtra, r.Periods))];
        Most = [.. Base];
        foreach (SearchRental rental in Rentals)
        {
            Most[rental.Resource] = [.. Base[rental.Resource]];
            foreach ((int from, int until) in rental.Periods)
            {
                for (int slot = from; slot < until; slot++)
                {
                    Most[rental.Resource][slot] += rental.Most;
                }
            }
        }

        ILookup<int, Precedence> before = problem.Precedences.ToLookup(p => p.After);
        Tasks = [.. problem.Tasks.Select((t, place) => new SearchTask(problem, t, place, before[place]))];
        int[] groupOf = new int[problem.Options.Count];
        for (int group = 0; group < problem.Choices.Count; group++)
        {
            foreach (int option in problem.Choices[group].Options)
            {
                groupOf[option] = group;
            }
        }

        ILookup<int, SearchTask> tasks = Tasks.ToLookup(t => t.Option);
        ILookup<int, ResourceHold> holds = problem.Holds.ToLookup(h => Tasks[h.FromTask].Option);
        Options = [.. problem.Options.Select((o, place) => new OptionIndex(o, [.. tasks[place]], holds[place], place, groupOf[place]))];
        Groups = [.. problem.Choices.Select(c => c.Options.OrderBy(o => problem.Options[o].Cost).ThenBy(o => o).ToArray())];
        HasPlan = problem.Tasks.Any(t => t.PlannedStart is not null) || problem.Options.Any(o => o.Change > 0);
    }

    public ScheduleProblem Problem { get; }

    public int Horizon { get; }

    /// <summary>Units there are by resource and slot, without what is rented.</summary>
    public long[][] Base { get; }

    /// <summary>Units there are with all that can be rented.</summary>
    public long[][] Most { get; }

    public IReadOnlyList<SearchRental> Rentals { get; }

    public SearchTask[] Tasks { get; }

    public OptionIndex[] Options { get; }

    /// <summary>Options of each choice, the cheapest first.</summary>
    public int[][] Groups { get; }

    public bool HasPlan { get; }

    /// <summary>Lays a problem out, or returns null where it is not of this form.</summary>
    public static SearchIndex? TryCreate(ScheduleProblem problem)
    {
        bool once = problem.Choices.SelectMany(c => c.Options).Distinct().Count() == problem.Options.Count
            && problem.Choices.Sum(c => c.Options.Count) == problem.Options.Count;
        bool apart = problem.Choices.Count > 0
            && problem.Tasks.All(t => t.Option is not null && (t.FixedStart is null || t.Modes.Count == 1))
            && problem.Precedences.All(p => problem.Tasks[p.Before].Option == problem.Tasks[p.After].Option)
            && problem.Holds.All(h => problem.Tasks[h.FromTask].Option == problem.Tasks[h.UntilTask].Option);
        HashSet<int?> started = [.. problem.Tasks.Where(t => t.FixedStart is not null).Select(t => t.Option)];
        bool decided = problem.Choices.All(c => !c.Options.Any(o => started.Contains(o))
            || c.Options.Count(o => !problem.Options[o].Forbidden) == 1);
        return once && apart && decided ? new(problem) : null;
    }
}
