namespace PostPipeline.Studies.Briefs;

/// <summary>A round of review and re-delivery.</summary>
/// <param name="Chance">How likely it is once the round before it has happened, 0 to 1.</param>
/// <param name="Days">Calendar days until the notes are in.</param>
/// <param name="Render">Farm work of the mending against the final render.</param>
/// <param name="Check">Hours of checking again per finished hour.</param>
public sealed record ReviewRound(double Chance, Estimate Days, Estimate Render, Estimate Check);
