using PostPipeline.Slates.Scheduling;

namespace PostPipeline.Slates.Searching;

/// <summary>A plan in work: what is placed, what is used in each slot, what is rented for it.</summary>
internal sealed class SearchState
{
    private readonly SearchIndex index;
    private readonly long[] totals = new long[LevelValues.Count];
    private readonly int[] rentalOf;
    private readonly long[][] units;
    private readonly int[] changedFrom;
    private readonly int[] changedUntil;

    public SearchState(SearchIndex index)
    {
        this.index = index;
        Usage = [.. index.Base.Select(b => new long[b.Length])];
        Rented = [.. index.Base];
        foreach (SearchRental rental in index.Rentals)
        {
            Rented[rental.Resource] = [.. index.Base[rental.Resource]];
        }

        rentalOf = [.. Enumerable.Repeat(-1, index.Base.Length)];
        for (int place = 0; place < index.Rentals.Count; place++)
        {
            rentalOf[index.Rentals[place].Resource] = place;
        }

        units = [.. index.Rentals.Select(r => new long[r.Periods.Count])];
        changedFrom = new int[index.Rentals.Count];
        changedUntil = [.. Enumerable.Repeat(index.Horizon, index.Rentals.Count)];

        // What has started holds its resources whatever else is planned.
        foreach (SearchTask task in index.Tasks.Where(t => t.Definition.FixedStart is not null && !index.Options[t.Option].Definition.Forbidden))
        {
            int start = task.Definition.FixedStart!.Value;
            Use(task.Modes[0], start, Math.Min(index.Horizon, task.End(start, task.Modes[0].Duration)), 1);
        }

        Placed = new Placement?[index.Groups.Length];
        totals[LevelValues.Impossible] = Placed.Length * LevelValues.NotPlaced;
        Recount();
    }

    public long[][] Usage { get; }

    /// <summary>Units there are with what is rented now.</summary>
    public long[][] Rented { get; }

    public Placement?[] Placed { get; }

    /// <summary>Values by level, extras included.</summary>
    public long[] Values()
    {
        long[] values = [.. totals];
        return values;
    }

    public void Add(Placement placement)
    {
        Placed[placement.Option.Group] = placement;
        Apply(placement, 1);
        totals[LevelValues.Impossible] -= LevelValues.NotPlaced;
        Recount();
    }

    public void Remove(int group)
    {
        if (Placed[group] is Placement placement)
        {
            Apply(placement, -1);
            Placed[group] = null;
            totals[LevelValues.Impossible] += LevelValues.NotPlaced;
            Recount();
        }
    }

    public void Use(TaskMode mode, int from, int until, int sign)
    {
        foreach (ResourceUse use in mode.Uses)
        {
            Use(use.Resource, use.Amount * sign, from, until);
        }
    }

    public void Use(int resource, long amount, int from, int until)
    {
        long[] usage = Usage[resource];
        for (int slot = from; slot < until; slot++)
        {
            usage[slot] += amount;
        }

        if (rentalOf[resource] is >= 0 and int rental)
        {
            changedFrom[rental] = Math.Min(changedFrom[rental], from);
            changedUntil[rental] = Math.Max(changedUntil[rental], until);
        }
    }

    /// <summary>Whether a placement uses something of which units are rented while it uses it.</summary>
    public bool IsRenting(Placement placement)
    {
        for (int i = 0; i < placement.Start.Length; i++)
        {
            foreach (ResourceUse use in placement.Option.Tasks[i].Modes[placement.Mode[i]].Uses)
            {
                if (IsRented(use.Resource, placement.Start[i], placement.End[i]))
                {
                    return true;
                }
            }
        }

        return Array.Exists(placement.Option.Holds, h => IsRented(h.Resource, placement.Start[h.From], Math.Min(index.Horizon, placement.End[h.Until] + h.Lag)));
    }

    /// <summary>Whether a placement that has been added uses more somewhere than can be there.</summary>
    public bool IsOver(Placement placement)
    {
        for (int i = 0; i < placement.Start.Length; i++)
        {
            foreach (ResourceUse use in placement.Option.Tasks[i].Modes[placement.Mode[i]].Uses)
            {
                if (IsOver(use.Resource, placement.Start[i], placement.End[i]))
                {
                    return true;
                }
            }
        }

        return Array.Exists(placement.Option.Holds, h => IsOver(h.Resource, placement.Start[h.From], Math.Min(index.Horizon, placement.End[h.Until] + h.Lag)));
    }

    public List<ExtraPlan> Extras()
    {
        List<ExtraPlan> extras = [];
        foreach (SearchRental rental in index.Rentals)
        {
            foreach ((int from, int until) in rental.Periods)
            {
                long units = Over(rental.Resource, from, until);
                if (units > 0)
                {
                    extras.Add(new(rental.Resource, from, until, units));
                }
            }
        }

        return extras;
    }

    private void Apply(Placement placement, int sign)
    {
        OptionIndex option = placement.Option;
        for (int i = 0; i < option.Tasks.Length; i++)
        {
            if (option.Tasks[i].Definition.FixedStart is null)
            {
                Use(option.Tasks[i].Modes[placement.Mode[i]], placement.Start[i], placement.End[i], sign);
            }
        }

        foreach ((int from, int until, int lag, int resource, long amount) in option.Holds)
        {
            Use(resource, amount * sign, placement.Start[from], Math.Min(index.Horizon, placement.End[until] + lag));
        }

        for (int level = 0; level < totals.Length; level++)
        {
            totals[level] += sign * placement.Parts[level];
        }
    }

    private bool IsOver(int resource, int from, int until)
    {
        for (int slot = from; slot < until; slot++)
        {
            if (Usage[resource][slot] > index.Most[resource][slot])
            {
                return true;
            }
        }

        return false;
    }

    private long Over(int resource, int from, int until)
    {
        long over = 0;
        long[] usage = Usage[resource];
        long[] there = index.Base[resource];
        for (int slot = from; slot < until; slot++)
        {
            over = Math.Max(over, usage[slot] - there[slot]);
        }

        return over;
    }

    private bool IsRented(int resource, int from, int until)
    {
        if (rentalOf[resource] is >= 0 and int rental)
        {
            IReadOnlyList<(int From, int Until)> periods = index.Rentals[rental].Periods;
            for (int period = 0; period < periods.Count; period++)
            {
                if (units[rental][period] > 0 && periods[period].From < until && periods[period].Until > from)
                {
                    return true;
                }
            }
        }

        return false;
    }

    // Only what was touched since the last time is looked at.
    private void Recount()
    {
        for (int place = 0; place < index.Rentals.Count; place++)
        {
            if (changedFrom[place] >= changedUntil[place])
            {
                continue;
            }

            SearchRental rental = index.Rentals[place];
            for (int period = 0; period < rental.Periods.Count; period++)
            {
                (int from, int until) = rental.Periods[period];
                if (from >= changedUntil[place] || until <= changedFrom[place])
                {
                    continue;
                }

                long over = Over(rental.Resource, from, until);
                if (over != units[place][period])
                {
                    totals[LevelValues.Extras] += (over - units[place][period]) * rental.Price;
                    units[place][period] = over;
                    for (int slot = from; slot < until; slot++)
                    {
                        Rented[rental.Resource][slot] = index.Base[rental.Resource][slot] + over;
                    }
                }
            }

            changedFrom[place] = int.MaxValue;
            changedUntil[place] = 0;
        }
    }
}
