namespace PostPipeline.Slates.Scheduling;

/// <summary>Something that tasks share at the same time: nodes, people of a skill, suites, licences, terabytes.</summary>
/// <param name="Name">A name for reports; unique in a problem.</param>
/// <param name="Capacity">Units there are, 0 or more.</param>
/// <param name="MostExtra">Units that can be rented on top at a time, 0 or more.</param>
/// <param name="ExtraPrice">Price of one rented unit for one period, in whole currency units, 0 or more.</param>
public sealed record ScheduleResource(string Name, long Capacity, long MostExtra = 0, long ExtraPrice = 0)
{
    /// <summary>First slot in which a rented unit works, 0 or more.</summary>
    public int ExtraFrom { get; init; }

    /// <summary>Slots of a rental period, counted from slot 0; 0 where one period lasts from <see cref="ExtraFrom"/> to the horizon.</summary>
    public int ExtraPeriod { get; init; }

    /// <summary>The periods in which units can be rented: those that begin at <see cref="ExtraFrom"/> or later.</summary>
    /// <param name="horizon">Slots of the horizon.</param>
    public IReadOnlyList<(int From, int Until)> ExtraPeriods(int horizon)
    {
        if (MostExtra == 0 || ExtraFrom >= horizon)
        {
            return [];
        }

        if (ExtraPeriod == 0)
        {
            return [(ExtraFrom, horizon)];
        }

        List<(int From, int Until)> periods = [];
        for (int from = (ExtraFrom + ExtraPeriod - 1) / ExtraPeriod * ExtraPeriod; from < horizon; from += ExtraPeriod)
        {
            periods.Add((from, Math.Min(horizon, from + ExtraPeriod)));
        }

        return periods;
    }
}
