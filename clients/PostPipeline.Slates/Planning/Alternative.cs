namespace PostPipeline.Slates.Planning;

/// <summary>What the slate would be like if a project took another pipeline.</summary>
/// <param name="Pipeline">The other pipeline.</param>
/// <param name="Worsens">The first level that is worse; null where none is.</param>
/// <param name="By">By how much, in the level's own unit.</param>
/// <param name="Limit">The limit behind it: a resource, the project's own length, its deadline; null where it is only the price.</param>
/// <param name="Reason">The same as a sentence.</param>
public sealed record Alternative(string Pipeline, PlanLevel? Worsens, long By, string? Limit, string Reason);
