using NodaTime;

namespace PostPipeline.Studies.Briefs;

/// <summary>What is shot.</summary>
/// <param name="Starts">The first shoot day.</param>
/// <param name="StartsIsInvented">Whether the first day was derived because the brief does not say.</param>
/// <param name="Days">Shoot days.</param>
/// <param name="DaysOff">Weekdays without a shoot.</param>
/// <param name="Closed">Dates without a shoot.</param>
/// <param name="Call">Start of the day.</param>
/// <param name="DaySpread">Standard deviation of a day's hours over their mean.</param>
/// <param name="StatedRatio">The shooting ratio where the brief states one: recorded frames of all cameras over finished frames.</param>
/// <param name="Units">The units.</param>
/// <param name="Cameras">The cameras.</param>
public sealed record ShootPlan(
    LocalDate Starts,
    bool StartsIsInvented,
    int Days,
    IReadOnlyList<IsoDayOfWeek> DaysOff,
    IReadOnlyList<LocalDate> Closed,
    LocalTime Call,
    double DaySpread,
    double? StatedRatio,
    IReadOnlyList<ShootUnit> Units,
    IReadOnlyList<Camera> Cameras)
{
    /// <summary>The changes to a brief's inputs that make every camera record so many times its hours; the shooting ratio moves with them.</summary>
    /// <param name="factor">Above 0; 2 for twice the material.</param>
    public IReadOnlyList<Change> Material(double factor) =>
        [.. Cameras.SelectMany(c => c.Recordings).Select(r => r.HoursPerDay.Key).Distinct().Select(hours => Change.Scale(hours, factor))];

    /// <summary>The date of each shoot day, in order.</summary>
    public IReadOnlyList<LocalDate> Dates()
    {
        List<LocalDate> dates = [];
        for (LocalDate date = Starts; dates.Count < Days; date = date.PlusDays(1))
        {
            if (!DaysOff.Contains(date.DayOfWeek) && !Closed.Contains(date))
            {
                dates.Add(date);
            }
        }

        return dates;
    }
}
