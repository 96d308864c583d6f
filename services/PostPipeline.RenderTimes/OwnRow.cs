namespace PostPipeline.RenderTimes;

/// <summary>A row of one's own family, measured briefly.</summary>
/// <param name="Features">Values by column name.</param>
/// <param name="SecondsPerFrame">What was measured, above zero.</param>
public sealed record OwnRow(IReadOnlyDictionary<string, string> Features, double SecondsPerFrame)
{
    /// <summary>The most rows taken into account.</summary>
    public const int MaximumRows = 1_000;
}
