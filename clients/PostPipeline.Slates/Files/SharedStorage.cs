using PostPipeline.Studies.Briefs;

namespace PostPipeline.Slates.Files;

/// <summary>The tiers that all projects share.</summary>
/// <param name="Online">The tier that editors and farm work on.</param>
/// <param name="Nearline">The tier that originals rest on.</param>
public sealed record SharedStorage(Tier Online, Tier Nearline)
{
    /// <summary>A tier by its word.</summary>
    /// <param name="tier">online or nearline.</param>
    public Tier Of(string tier) => tier == "online" ? Online : Nearline;
}
