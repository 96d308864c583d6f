using PostPipeline.Quantities.Randomness;

namespace PostPipeline.Slates.Searching;

/// <summary>
/// A search that takes a few choices out of a plan and puts them back in another order, with other options and modes
/// (ruin and recreate: Schrimpf et al., Journal of Computational Physics 159, 2000), and now and then accepts a plan that
/// is a little worse (simulated annealing: Kirkpatrick et al., Science 220, 1983).
/// </summary>
internal sealed class PlanWalker
{
    private readonly SearchIndex index;
    private readonly OptionPlacer placer;
    private readonly OptionWindows windows;
    private readonly bool[] counts;
    private readonly SearchState state;
    private readonly bool[] possible;
    private readonly long[] leastMoney;
    private readonly Placement?[] planned;
    private RandomStream random;

    public PlanWalker(SearchIndex index, OptionWindows windows, bool[] counts, Placement?[] planned, int seed, int number)
    {
        this.index = index;
        this.windows = windows;
        this.counts = counts;
        this.planned = planned;
        state = new(index);
        placer = new(index, state, windows);
        possible = [.. index.Options.Select(windows.IsPossible)];
        leastMoney = [.. index.Groups.Select(g => g.Where(o => possible[o]).Select(o => index.Options[o].Definition.Cost).DefaultIfEmpty(0).Min())];
        random = new(seed, RandomPurpose.Slates, 1, number);
        Best = [.. state.Placed];
        BestValues = state.Values();
    }

    public Placement?[] Best { get; private set; }

    public long[] BestValues { get; private set; }

    /// <summary>Steps taken.</summary>
    public long Steps { get; private set; }

    /// <summary>A first plan: choices by their due dates, by their slack, or at random.</summary>
    public void Build(int order)
    {
        Load(new Placement?[index.Groups.Length]);
        List<int> groups = [.. Enumerable.Range(0, index.Groups.Length)];
        List<double> keys = [.. groups.Select(g => Key(g, order))];
        foreach (int group in groups.OrderBy(g => keys[g]))
        {
            Insert(group, firstBuild: true);
        }

        Keep();
    }

    /// <summary>Goes on from a plan.</summary>
    public void Load(Placement?[] placements)
    {
        for (int group = 0; group < placements.Length; group++)
        {
            if (state.Placed[group] != placements[group])
            {
                state.Remove(group);
            }
        }

        for (int group = 0; group < placements.Length; group++)
        {
            if (placements[group] is Placement placement && state.Placed[group] != placement)
            {
                state.Add(placement);
            }
        }

        Keep();
    }

    /// <summary>Places the choices that are not placed yet.</summary>
    public void Fill()
    {
        for (int group = 0; group < index.Groups.Length; group++)
        {
            if (state.Placed[group] is null)
            {
                Insert(group, firstBuild: true);
            }
        }

        Keep();
    }

    /// <summary>Takes steps.</summary>
    /// <param name="steps">How many.</param>
    /// <param name="focus">The level that choices to take out are looked for by.</param>
    /// <param name="heat">How willingly a worse plan is accepted, 0 to 1.</param>
    /// <param name="cancellation">Ends the search between steps.</param>
    public void Walk(int steps, int focus, double heat, CancellationToken cancellation)
    {
        for (int step = 0; step < steps && !cancellation.IsCancellationRequested; step++)
        {
            Steps++;
            List<int> groups = PickGroups(focus);
            long[] before = state.Values();
            Placement?[] old = [.. groups.Select(g => state.Placed[g])];
            foreach (int group in groups)
            {
                state.Remove(group);
            }

            Shuffle(groups, out List<int> order);
            foreach (int group in order)
            {
                Insert(group, firstBuild: false);
            }

            long[] after = state.Values();
            if (IsAccepted(before, after, heat))
            {
                Keep();
            }
            else
            {
                for (int i = 0; i < groups.Count; i++)
                {
                    state.Remove(groups[i]);
                }

                for (int i = 0; i < groups.Count; i++)
                {
                    if (old[i] is Placement placement)
                    {
                        state.Add(placement);
                    }
                }
            }
        }
    }

    private void Keep()
    {
        long[] values = state.Values();
        if (LevelValues.IsLess(values, BestValues, counts))
        {
            BestValues = values;
            Best = [.. state.Placed];
        }
    }

    private bool IsAccepted(long[] before, long[] after, double heat)
    {
        int level = LevelValues.FirstDifference(before, after, counts);
        if (level < 0 || after[level] < before[level])
        {
            return true;
        }

        if (level == LevelValues.Impossible || heat <= 0)
        {
            return false;
        }

        // A hundredth of the level's value, or a unit of it, is what a hot search forgives.
        double scale = heat * Math.Max(level < LevelValues.Extras ? 1 : 0.0001, BestValues[level] * 0.01);
        return random.NextUnit() < Math.Exp(-(after[level] - before[level]) / scale);
    }

    private double Key(int group, int order)
    {
        IEnumerable<SearchTask> due = index.Groups[group].SelectMany(o => index.Options[o].Tasks).Where(t => t.Definition.Due is not null);
        double date = due.Select(t => (double)t.Definition.Due!.Value).DefaultIfEmpty(index.Horizon).Min();
        double rank = due.Select(t => (double)t.Definition.LatenessRank).DefaultIfEmpty(2).Min() * 2 * index.Horizon;
        double slack = due.Select(t => t.Definition.Due!.Value - (double)windows.EarliestEnd(t)).DefaultIfEmpty(index.Horizon).Max();
        double head = index.Groups[group].SelectMany(o => index.Options[o].Tasks).Min(windows.Head);
        return order switch
        {
            0 => rank + date,
            1 => rank + slack,
            2 => rank + head,
            3 => rank + (date / 2) + (head / 2),
            _ => rank + date + (random.NextUnit() * index.Horizon / 4),
        };
    }

    private List<int> PickGroups(int focus)
    {
        int all = index.Groups.Length;
        int count = Math.Min(all, random.NextUnit() < 0.1 ? 5 + random.NextBelow(8) : 1 + random.NextBelow(5));
        int anchor = random.NextBelow(all);
        if (random.NextUnit() < 0.6)
        {
            int from = random.NextBelow(all);
            for (int i = 0; i < all; i++)
            {
                int group = (from + i) % all;
                if (IsWanting(group, focus))
                {
                    anchor = group;
                    break;
                }
            }
        }

        List<int> groups = [anchor];
        (int first, int last) = Span(anchor);
        List<(int Group, double Far)> near = [.. Enumerable.Range(0, all).Where(g => g != anchor).Select(g =>
        {
            (int from, int until) = Span(g);
            double apart = Math.Max(0, Math.Max(from - last, first - until));
            double middle = Math.Abs(((from + until) / 2.0) - ((first + last) / 2.0)) * 0.5;
            return (g, apart + middle + (random.NextUnit() * 40));
        }).OrderBy(p => p.Item2)];
        groups.AddRange(near.Take(count - 1).Select(n => n.Group));
        return groups;
    }

    private bool IsWanting(int group, int focus) =>
        state.Placed[group] is not Placement placement
        || placement.Parts[LevelValues.Impossible] > 0
        || (focus == LevelValues.Extras ? state.IsRenting(placement) : focus == LevelValues.Money ? placement.Parts[focus] > leastMoney[group] : placement.Parts[focus] > 0);

    private (int First, int Last) Span(int group) =>
        state.Placed[group] is Placement placement ? (placement.FirstSlot, placement.LastSlot) : (0, index.Horizon);

    private void Shuffle(List<int> groups, out List<int> order)
    {
        order = [.. groups];
        if (random.NextUnit() < 0.3)
        {
            List<double> keys = [.. groups.Select(g => Key(g, 4))];
            order = [.. groups.Select((g, i) => (g, keys[i])).OrderBy(p => p.Item2).Select(p => p.g)];
            return;
        }

        for (int i = order.Count - 1; i > 0; i--)
        {
            int other = random.NextBelow(i + 1);
            (order[i], order[other]) = (order[other], order[i]);
        }
    }

    private void Insert(int group, bool firstBuild)
    {
        int[] options = index.Groups[group];
        double pick = random.NextUnit();
        ModeRule rule = index.HasPlan && (firstBuild || pick < 0.5) ? ModeRule.AsPlanned
            : firstBuild || pick < 0.75 ? ModeRule.First
            : pick < 0.9 ? ModeRule.Thrifty : ModeRule.Any;
        int delay = !firstBuild && random.NextUnit() < 0.05 ? random.NextBelow(14) : 0;
        int only = !firstBuild && options.Length > 1 && random.NextUnit() < 0.1 ? random.NextBelow(options.Length) : -1;
        Placement? best = null;
        long[] bestValues = [];
        TryAsPlanned(group, ref best, ref bestValues);
        for (int place = 0; place < options.Length; place++)
        {
            OptionIndex option = index.Options[options[place]];
            if (!possible[option.Place] || (only >= 0 && place != only))
            {
                continue;
            }

            Try(option, rule, rentMore: false, delay, ref best, ref bestValues);
            if (index.Rentals.Count > 0 && (best is null || best.Option != option || best.Parts.AsSpan(0, LevelValues.Extras).ContainsAnyExcept(0)))
            {
                Try(option, rule, rentMore: true, delay, ref best, ref bestValues);
            }

            // A cheapest option that harms nobody cannot be beaten by a dearer one.
            if (best is not null && !counts[LevelValues.Changes] && !best.Parts.AsSpan(0, LevelValues.Extras).ContainsAnyExcept(0) && bestValues[LevelValues.Extras] == state.Values()[LevelValues.Extras])
            {
                break;
            }
        }

        if (best is null && only >= 0)
        {
            foreach (int option in options.Where(o => possible[o]))
            {
                Try(index.Options[option], ModeRule.First, rentMore: true, 0, ref best, ref bestValues);
            }
        }

        if (best is not null)
        {
            state.Add(best);
        }
    }

    // What runs now stays just as it is wherever that is as good: only another plan of the whole can move it.
    private void TryAsPlanned(int group, ref Placement? best, ref long[] bestValues)
    {
        if (!counts[LevelValues.Changes] || planned[group] is not Placement placement)
        {
            return;
        }

        state.Add(placement);
        if (!state.IsOver(placement))
        {
            (best, bestValues) = (placement, state.Values());
        }

        state.Remove(group);
    }

    private void Try(OptionIndex option, ModeRule rule, bool rentMore, int delay, ref Placement? best, ref long[] bestValues)
    {
        if (placer.Place(option, rule, rentMore, delay, ref random) is not Placement placement)
        {
            return;
        }

        long[] values;
        if (!rentMore || index.Rentals.Count == 0)
        {
            // What fits into what is rented already rents nothing more.
            values = state.Values();
            for (int level = 0; level < values.Length; level++)
            {
                values[level] += placement.Parts[level];
            }

            values[LevelValues.Impossible] -= LevelValues.NotPlaced;
        }
        else
        {
            state.Add(placement);
            values = state.Values();
            state.Remove(option.Group);
        }

        if (best is null || LevelValues.IsLess(values, bestValues, counts))
        {
            best = placement;
            bestValues = values;
        }
    }
}
