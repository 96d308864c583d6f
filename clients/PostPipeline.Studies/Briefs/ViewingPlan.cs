using PostPipeline.Quantities;

namespace PostPipeline.Studies.Briefs;

/// <summary>A look on each day's material, and copies to view.</summary>
/// <param name="People">People who do it, beside the assistants.</param>
/// <param name="Rate">Data rate of the copies.</param>
/// <param name="Link">Link that they are sent over.</param>
public sealed record ViewingPlan(int People, DataRate Rate, DataRate Link);
