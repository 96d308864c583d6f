using NodaTime;

namespace PostPipeline.Slates.Files;

/// <summary>Days that are given to something else: leave, a course, work outside the slate.</summary>
/// <param name="For">What.</param>
/// <param name="From">The first day.</param>
/// <param name="Until">The last day.</param>
public sealed record Booking(string For, LocalDate From, LocalDate Until)
{
    /// <summary>Whether a day lies within.</summary>
    /// <param name="date">The day.</param>
    public bool Covers(LocalDate date) => date >= From && date <= Until;
}
