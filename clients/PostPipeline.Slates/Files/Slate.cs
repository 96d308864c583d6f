using NodaTime;
using PostPipeline.Studies.Briefs;

namespace PostPipeline.Slates.Files;

/// <summary>Projects that share one farm, one storage pool, links and people over some weeks.</summary>
/// <param name="Title">The slate's name.</param>
/// <param name="Zone">The zone of dates and clocks.</param>
/// <param name="Currency">ISO 4217 code; XXX for none. Every brief has the same.</param>
/// <param name="Today">The day on which it is looked at: a hold that expires before it is refused.</param>
/// <param name="Starts">The first day of the plan.</param>
/// <param name="Weeks">Weeks of the plan.</param>
/// <param name="Seed">Seed of what the projects share; each project draws from its own.</param>
/// <param name="Confidence">How sure each date must be.</param>
/// <param name="Level">P50, P80 or P90: the level that durations are planned at.</param>
/// <param name="Projects">The projects.</param>
/// <param name="Farm">The farm that they share.</param>
/// <param name="FarmInputs">Its failures and availability, by the keys of a brief.</param>
/// <param name="Storage">The tiers that they share.</param>
/// <param name="Suites">Grading suites; 0 where they are not counted.</param>
/// <param name="People">The people.</param>
/// <param name="Links">The links.</param>
/// <param name="Closures">Maintenance.</param>
/// <param name="Extras">What can be rented.</param>
public sealed record Slate(
    string Title,
    DateTimeZone Zone,
    string Currency,
    LocalDate Today,
    LocalDate Starts,
    int Weeks,
    long Seed,
    double Confidence,
    string Level,
    IReadOnlyList<SlateEntry> Projects,
    FarmPlan Farm,
    IReadOnlyList<Estimate> FarmInputs,
    SharedStorage Storage,
    int Suites,
    IReadOnlyList<Person> People,
    IReadOnlyList<SharedLink> Links,
    IReadOnlyList<Closure> Closures,
    IReadOnlyList<Extra> Extras)
{
    /// <summary>The day after the last.</summary>
    public LocalDate Ends => Starts.PlusWeeks(Weeks);

    /// <summary>The people with a skill.</summary>
    /// <param name="skill">One of <see cref="Person.AllSkills"/>.</param>
    public IEnumerable<Person> With(string skill) => People.Where(p => p.Skills.Contains(skill));
}
