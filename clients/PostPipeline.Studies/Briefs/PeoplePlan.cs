using NodaTime;

namespace PostPipeline.Studies.Briefs;

/// <summary>Who works, and when.</summary>
/// <param name="Assistants">Assistants.</param>
/// <param name="Graders">People who grade.</param>
/// <param name="Checkers">People who check quality.</param>
/// <param name="From">Start of work.</param>
/// <param name="Until">End of work.</param>
/// <param name="DaysOff">Weekdays without work.</param>
/// <param name="Closed">Dates without work.</param>
public sealed record PeoplePlan(
    int Assistants,
    int Graders,
    int Checkers,
    LocalTime From,
    LocalTime Until,
    IReadOnlyList<IsoDayOfWeek> DaysOff,
    IReadOnlyList<LocalDate> Closed);
