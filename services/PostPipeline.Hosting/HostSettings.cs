namespace PostPipeline.Hosting;

/// <summary>What a host is started with.</summary>
public sealed record HostSettings
{
    /// <summary>The data folder as given on the command line; null for the usual places.</summary>
    public string? DataFolder { get; init; }

    /// <summary>What the host takes on at once.</summary>
    public HostLimits Limits { get; init; } = new();
}
