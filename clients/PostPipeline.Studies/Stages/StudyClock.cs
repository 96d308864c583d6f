using NodaTime;
using PostPipeline.Flows;
using PostPipeline.Studies.Briefs;

namespace PostPipeline.Studies.Stages;

/// <summary>
/// The clock of a study: whole seconds from local midnight of the first shoot day, in real time, so that a night in
/// which the clocks change has its true length.
/// </summary>
public sealed class StudyClock
{
    private readonly DateTimeZone zone;
    private readonly Instant epoch;

    /// <summary>Starts the clock.</summary>
    /// <param name="zone">The production's time zone.</param>
    /// <param name="firstDay">The first shoot day.</param>
    public StudyClock(DateTimeZone zone, LocalDate firstDay)
    {
        this.zone = zone;
        FirstDay = firstDay;
        epoch = zone.AtStartOfDay(firstDay).ToInstant();
    }

    /// <summary>The day on whose midnight the clock reads 0.</summary>
    public LocalDate FirstDay { get; }

    /// <summary>The reading at a local date and time; a time that the clocks skip is the next one there is.</summary>
    /// <param name="date">The date.</param>
    /// <param name="time">The time of day.</param>
    public long At(LocalDate date, LocalTime time) => (long)(zone.AtLeniently(date.At(time)).ToInstant() - epoch).TotalSeconds;

    /// <summary>The reading at the end of a working day, 18:00.</summary>
    /// <param name="date">The date.</param>
    public long EndOf(LocalDate date) => At(date, new LocalTime(18, 0));

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
}
