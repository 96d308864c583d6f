using NodaTime;

namespace PostPipeline.Studies.Reforecasts;

/// <summary>A unit's next shoot day.</summary>
/// <param name="Date">The date.</param>
/// <param name="Unit">The unit.</param>
/// <param name="Bytes">Bytes, with what was seen blended in.</param>
/// <param name="Cards">Cards that it fills, at least.</param>
/// <param name="OffloadEnd">When the last card is done, s after midnight.</param>
/// <param name="FirstCamera">The camera whose cards go first, because they hold the most.</param>
public sealed record Tomorrow(LocalDate Date, string Unit, double Bytes, int Cards, double OffloadEnd, string FirstCamera)
{
    /// <summary>Cards, drives, tiers and tapes before the day and after it; shared by all units. Only what the brief counts is here.</summary>
    public required IReadOnlyList<Supply> Supplies { get; init; }
}
