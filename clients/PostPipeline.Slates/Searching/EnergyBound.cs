using System.Globalization;
using Google.OrTools.Sat;
using PostPipeline.Slates.Scheduling;

namespace PostPipeline.Slates.Searching;

/// <summary>
/// Bounds that no plan can beat. Work that must lie between two slots whatever the plan (the least overlap over all starts
/// that the windows leave: the energetic reasoning of Erschler, Lopez and Thuriot 1991) cannot exceed what is there
/// between them. Which options are taken and how late each is stay open: the least value over them, with those sums kept,
/// is the bound. Sums are added as they are broken.
/// </summary>
internal sealed class EnergyBound
{
    private const int RowsARound = 60;

    private readonly SearchIndex index;
    private readonly List<BoundColumn> columns;
    private readonly int[] marks;
    private readonly bool[][] usable;
    private readonly HashSet<(int Resource, int From, int Until)> known = [];
    private readonly List<(int Resource, int From, int Until, (int Column, long Least)[] Terms)> rows = [];

    public EnergyBound(SearchIndex index, OptionWindows windows)
    {
        this.index = index;
        columns = [.. index.Options.Where(windows.IsPossible).SelectMany(o => BoundColumn.Of(o, windows, index.Horizon))];

        // Half-weeks at least; finer where the horizon is short.
        int step = Math.Max(1, Math.Min(7, index.Horizon / 40));
        marks = [.. Enumerable.Range(0, (index.Horizon / step) + 1).Select(i => i * step).Append(index.Horizon).Distinct()];
        usable = [.. index.Base.Select(_ => new bool[index.Horizon])];
        foreach (SearchTask task in index.Tasks)
        {
            foreach (int resource in task.Modes.SelectMany(m => m.Uses).Select(u => u.Resource).Distinct())
            {
                for (int slot = 0; slot < index.Horizon; slot++)
                {
                    usable[resource][slot] |= task.IsOpen(slot);
                }
            }
        }

        foreach (int resource in index.Problem.Holds.Select(h => h.Use.Resource).Distinct())
        {
            Array.Fill(usable[resource], true);
        }
    }

    /// <summary>A bound of a level for plans that are no worse than given in the levels before it.</summary>
    /// <param name="level">The level, by <see cref="LevelValues"/>.</param>
    /// <param name="limits">Values of the levels before it.</param>
    /// <param name="counts">The levels that count.</param>
    /// <param name="seconds">Most seconds, in the solver's own time where it is to be repeatable.</param>
    /// <param name="repeatable">Whether the same problem is to give the same bound.</param>
    /// <param name="cancellation">Ends it with the bound so far.</param>
    public long Bound(int level, long[] limits, bool[] counts, double seconds, bool repeatable, CancellationToken cancellation)
    {
        long bound = 0;
        System.Diagnostics.Stopwatch watch = System.Diagnostics.Stopwatch.StartNew();
        for (int round = 0; round < 60 && !cancellation.IsCancellationRequested; round++)
        {
            double left = repeatable ? seconds / 8 : seconds - watch.Elapsed.TotalSeconds;
            if (left <= 0 || (repeatable && round == 12))
            {
                break;
            }

            CpModel model = new();
            BoolVar[] taken = [.. columns.Select((_, i) => model.NewBoolVar(string.Create(CultureInfo.InvariantCulture, $"c{i}")))];
            foreach (IGrouping<int, int> group in Enumerable.Range(0, columns.Count).GroupBy(i => columns[i].Option.Group))
            {
                model.AddExactlyOne(group.Select(i => taken[i]));
            }

            List<(SearchRental Rental, int From, int Until, IntVar Units)> rented = [.. index.Rentals.SelectMany(r =>
                r.Periods.Select(p => (r, p.From, p.Until, model.NewIntVar(0, r.Most, "rented"))))];
            LinearExpr objective = Expression(level, taken, rented);
            for (int earlier = LevelValues.Lateness; earlier < level; earlier++)
            {
                if (counts[earlier])
                {
                    model.Add(Expression(earlier, taken, rented) <= limits[earlier]);
                }
            }

            foreach ((int resource, int from, int until, (int Column, long Least)[] terms) in rows)
            {
                AddRow(model, taken, rented, resource, from, until, terms);
            }

            model.Minimize(objective);
            CpSolver solver = new()
            {
                StringParameters = string.Create(
                    CultureInfo.InvariantCulture,
                    $"num_workers:1,random_seed:1,linearization_level:2,{(repeatable ? "max_deterministic_time" : "max_time_in_seconds")}:{left:F3}"),
            };
            using CancellationTokenRegistration stop = cancellation.Register(solver.StopSearch);
            CpSolverStatus status = solver.Solve(model);
            if (status == CpSolverStatus.Infeasible)
            {
                // No choice keeps the levels before this one: what was found already is the least.
                return limits[level];
            }

            bound = Math.Max(bound, (long)Math.Ceiling(solver.BestObjectiveBound - 1e-6));
            if (status is not (CpSolverStatus.Optimal or CpSolverStatus.Feasible))
            {
                break;
            }

            if (!Separate([.. taken.Select(solver.BooleanValue)], rented.Select(r => solver.Value(r.Units)).ToArray(), rented))
            {
                break;
            }
        }

        return Math.Min(bound, limits[level]);
    }

    private LinearExpr Expression(int level, BoolVar[] taken, List<(SearchRental Rental, int From, int Until, IntVar Units)> rented) =>
        level == LevelValues.Extras
            ? LinearExpr.WeightedSum(rented.Select(r => r.Units), rented.Select(r => r.Rental.Price))
            : LinearExpr.WeightedSum(taken, columns.Select(c => c.Values[level]));

    private void AddRow(CpModel model, BoolVar[] taken, List<(SearchRental Rental, int From, int Until, IntVar Units)> rented, int resource, int from, int until, (int Column, long Least)[] terms)
    {
        LinearExpr there = LinearExpr.Constant(There(resource, from, until));
        foreach ((SearchRental rental, int first, int last, IntVar units) in rented.Where(r => r.Rental.Resource == resource))
        {
            int slots = Slots(resource, Math.Max(from, first), Math.Min(until, last));
            if (slots > 0)
            {
                there += units * slots;
            }
        }

        model.Add(LinearExpr.WeightedSum(terms.Select(t => taken[t.Column]), terms.Select(t => t.Least)) <= there);
    }

    private int Slots(int resource, int from, int until)
    {
        int slots = 0;
        for (int slot = from; slot < until; slot++)
        {
            slots += usable[resource][slot] ? 1 : 0;
        }

        return slots;
    }

    private long There(int resource, int from, int until)
    {
        long sum = 0;
        for (int slot = from; slot < until; slot++)
        {
            sum += usable[resource][slot] ? Math.Max(0, index.Base[resource][slot]) : 0;
        }

        return sum;
    }

    private bool Separate(bool[] taken, long[] units, List<(SearchRental Rental, int From, int Until, IntVar Units)> rented)
    {
        List<(double Over, (int, int, int) Row)> broken = [];
        List<BoundColumn> active = [.. columns.Where((_, i) => taken[i])];
        for (int resource = 0; resource < index.Base.Length; resource++)
        {
            List<BoundColumn> users = [.. active.Where(c => c.Uses(resource))];
            if (users.Count == 0)
            {
                continue;
            }

            long[] there = new long[index.Horizon + 1];
            for (int slot = 0; slot < index.Horizon; slot++)
            {
                there[slot + 1] = there[slot] + (usable[resource][slot] ? Math.Max(0, index.Base[resource][slot]) : 0);
            }

            for (int period = 0; period < rented.Count; period++)
            {
                if (rented[period].Rental.Resource == resource && units[period] > 0)
                {
                    long sum = 0;
                    for (int slot = rented[period].From; slot < index.Horizon; slot++)
                    {
                        sum += slot < rented[period].Until && usable[resource][slot] ? units[period] : 0;
                        there[slot + 1] += sum;
                    }
                }
            }

            for (int a = 0; a < marks.Length; a++)
            {
                for (int b = a + 1; b < marks.Length; b++)
                {
                    long sum = 0;
                    foreach (BoundColumn column in users)
                    {
                        sum += column.Least(resource, marks[a], marks[b]);
                    }

                    long most = there[marks[b]] - there[marks[a]];
                    if (sum > most && !known.Contains((resource, marks[a], marks[b])))
                    {
                        broken.Add(((sum - most) / (double)Math.Max(1, most), (resource, marks[a], marks[b])));
                    }
                }
            }
        }

        foreach ((_, (int resource, int from, int until)) in broken.OrderByDescending(b => b.Over).Take(RowsARound))
        {
            known.Add((resource, from, until));
            rows.Add((resource, from, until, [.. columns.Select((c, i) => (i, c.Least(resource, from, until))).Where(t => t.Item2 > 0)]));
        }

        return broken.Count > 0;
    }
}
