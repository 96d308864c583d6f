using NodaTime;

namespace PostPipeline.Slates.Files;

/// <summary>Maintenance: some days on which something cannot be used.</summary>
/// <param name="What">farm, a class of its nodes, suites or the name of a link.</param>
/// <param name="From">The first day.</param>
/// <param name="Until">The last day.</param>
public sealed record Closure(string What, LocalDate From, LocalDate Until)
{
    /// <summary>Whether a day lies within.</summary>
    /// <param name="date">The day.</param>
    public bool Covers(LocalDate date) => date >= From && date <= Until;
}
