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
    private readonly bool[] counts;
    private readonly SearchState state;
    private readonly bool[] possible;
    private readonly ChoicePicker picker;
    private readonly Placement?[] planned;
    private RandomStream random;

    public PlanWalker(SearchIndex index, OptionWindows windows, bool[] counts, Placement?[] planned, int seed, int number)
    {
        this.index = index;
        this.counts = counts;
        this.planned = planned;
        state = new(index);
        placer = new(index, state, windows);
        possible = [.. index.Options.Select(windows.IsPossible)];
        picker = new(index, windows, state, possible);
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
        double[] keys = new double[groups.Count];
        foreach (int group in groups)
        {
            keys[group] = picker.Key(group, order, ref random);
        }

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
            List<int> groups = picker.Pick(focus, ref random);
            long[] before = state.Values();
            Placement?[] old = [.. groups.Select(g => state.Placed[g])];
            foreach (int group in groups)
            {
                state.Remove(group);
            }

            foreach (int group in picker.Order(groups, ref random))
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
