using NodaTime;

namespace PostPipeline.Studies.Briefs;

/// <summary>The cut.</summary>
/// <param name="FinishedSeconds">Finished length, s.</param>
/// <param name="Lock">The date of picture lock.</param>
/// <param name="Tracks">Picture tracks to conform.</param>
public sealed record EditPlan(
    double FinishedSeconds,
    LocalDate Lock,
    double Tracks);
