using NodaTime;
using NodaTime.TimeZones;
using PostPipeline.Flows;
using PostPipeline.Studies.Briefs;

namespace PostPipeline.Studies.Stages;

/// <summary>
/// The clock of a study: whole seconds from local midnight of the first shoot day, in real time, so that a night in
/// which the clocks change has its true length.
/// </summary>
public sealed class StudyClock
{
    // Whatever is asked of a clock lies inside these years; beyond them the last offset holds.
    private const int Years = 25;

    private static readonly ZoneLocalMappingResolver Mapping = Resolvers.CreateMappingResolver(Resolvers.ReturnEarlier, Resolvers.ReturnStartOfIntervalAfter);

    private readonly DateTimeZone zone;
    private readonly Instant epoch;

    // From which reading on the zone is how many seconds ahead of UTC.
    private readonly (long From, int Offset)[] offsets;

    /// <summary>Starts the clock.</summary>
    /// <param name="zone">The production's time zone.</param>
    /// <param name="firstDay">The first shoot day.</param>
    public StudyClock(DateTimeZone zone, LocalDate firstDay)
    {
        this.zone = zone;
        FirstDay = firstDay;
        epoch = zone.AtStartOfDay(firstDay).ToInstant();
        offsets = [.. zone.GetZoneIntervals(epoch - Duration.FromDays(366), epoch + Duration.FromDays(Years * 366))
            .Select(i => (i.HasStart ? (long)(i.Start - epoch).TotalSeconds : long.MinValue, i.WallOffset.Seconds))];
    }

    /// <summary>The day on whose midnight the clock reads 0.</summary>
    public LocalDate FirstDay { get; }

    /// <summary>
    /// The reading at a local date and time. A time that the clocks skip is the moment at which they skip it, so that a window
    /// that would open or close in the hour left out does so there; of a time that comes twice it is the first.
    /// </summary>
    /// <param name="date">The date.</param>
    /// <param name="time">The time of day.</param>
    public long At(LocalDate date, LocalTime time) => (long)(zone.ResolveLocal(date.At(time), Mapping).ToInstant() - epoch).TotalSeconds;

    /// <summary>
    /// The reading from which a unit's day counts its seconds after midnight: so long before its call as the call's time of day
    /// says. On a night in which the clocks change that is not midnight; counted so, a wrap at 19:00 is at 19:00.
    /// </summary>
    /// <param name="date">The date.</param>
    /// <param name="unit">The unit.</param>
    public long MidnightOf(LocalDate date, ShootUnit unit) => At(date, unit.Call) - (unit.Call.TickOfDay / NodaConstants.TicksPerSecond);

    /// <summary>The reading at the end of a working day, 18:00.</summary>
    /// <param name="date">The date.</param>
    public long EndOf(LocalDate date) => At(date, new LocalTime(18, 0));

    /// <summary>The reading so many calendar days later, at the same local time of day: a lock at 18:00 that slips a week stays at 18:00.</summary>
    /// <param name="seconds">A reading.</param>
    /// <param name="days">Days, which may be parts of one or below 0.</param>
    public double Later(double seconds, double days)
    {
        if (days == 0)
        {
            return seconds;
        }

        double later = seconds + (days * Calendar.Day);
        return later + OffsetAt(seconds) - OffsetAt(later);
    }

    /// <summary>The local date and time of a reading.</summary>
    /// <param name="seconds">Within about a thousand years.</param>
    public LocalDateTime Local(double seconds) => (epoch + Duration.FromSeconds(seconds)).InZone(zone).LocalDateTime;

    /// <summary>A date and time for print, to the hour: a draw does not know minutes.</summary>
    /// <param name="seconds">A reading.</param>
    public string Text(double seconds) =>
        double.IsFinite(seconds) && Math.Abs(seconds) < 3e9 ? Local(seconds).ToString("uuuu-MM-dd HH:mm", null) : "beyond the calendar";

    /// <summary>A date for print.</summary>
    /// <param name="seconds">A reading.</param>
    public string DateText(double seconds) =>
        double.IsFinite(seconds) && Math.Abs(seconds) < 3e9 ? Local(seconds).ToString("uuuu-MM-dd", null) : "beyond the calendar";

    /// <summary>Working hours of people.</summary>
    /// <param name="people">Hours and days off.</param>
    /// <param name="from">The first date.</param>
    /// <param name="days">How many dates.</param>
    public Windows WorkingHours(PeoplePlan people, LocalDate from, int days) => Windows.From(
        Enumerable.Range(0, days).Select(from.PlusDays)
            .Where(date => !people.DaysOff.Contains(date.DayOfWeek) && !people.Closed.Contains(date))
            .Select(date => (At(date, people.From), At(date, people.Until))));

    /// <summary>When the farm may run.</summary>
    /// <param name="farm">Nights, whole days and maintenance.</param>
    /// <param name="from">The first date.</param>
    /// <param name="days">How many dates.</param>
    public Windows FarmHours(FarmPlan farm, LocalDate from, int days)
    {
        List<(long, long)> open = [];
        for (int i = 0; i < days; i++)
        {
            LocalDate date = from.PlusDays(i);
            if (farm.AllDay.Contains(date.DayOfWeek) || farm.Open == farm.Close)
            {
                open.Add((At(date, LocalTime.Midnight), At(date.PlusDays(1), LocalTime.Midnight)));
            }

            LocalDate closes = farm.Close > farm.Open ? date : date.PlusDays(1);
            open.Add((At(date, farm.Open), Math.Max(At(date, farm.Open), At(closes, farm.Close))));
        }

        Windows shut = Windows.From(farm.Maintenance.Distinct().Select(d => (At(d, LocalTime.Midnight), At(d.PlusDays(1), LocalTime.Midnight))));
        return Windows.From(open).Except(shut);
    }

    private int OffsetAt(double seconds)
    {
        int place = 0;
        while (place + 1 < offsets.Length && seconds >= offsets[place + 1].From)
        {
            place++;
        }

        return offsets[place].Offset;
    }
}
