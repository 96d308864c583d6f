using NodaTime;

namespace PostPipeline.Slates.Files;

/// <summary>Somebody who works on the slate.</summary>
/// <param name="Name">A name, unique in the slate.</param>
/// <param name="Skills">What they can do; see <see cref="AllSkills"/>.</param>
/// <param name="From">Start of work.</param>
/// <param name="Until">End of work.</param>
/// <param name="DaysOff">Weekdays without work.</param>
/// <param name="Booked">When they are not to be had.</param>
public sealed record Person(
    string Name,
    IReadOnlyList<string> Skills,
    LocalTime From,
    LocalTime Until,
    IReadOnlyList<IsoDayOfWeek> DaysOff,
    IReadOnlyList<Booking> Booked)
{
    /// <summary>The skills that a slate counts, by the resource that a stage of a pipeline names.</summary>
    public static IReadOnlyList<string> AllSkills { get; } = ["assistants", "graders", "checkers"];

    /// <summary>Hours of a working day.</summary>
    public double Hours => (Until.TickOfDay - From.TickOfDay) / 3.6e10;

    /// <summary>Whether they work on a day.</summary>
    /// <param name="date">The day.</param>
    public bool Works(LocalDate date) => !DaysOff.Contains(date.DayOfWeek) && !Booked.Any(b => b.Covers(date));
}
