namespace PostPipeline.Notebooks.Runs;

/// <summary>Where the services of a run are.</summary>
/// <param name="Addresses">Addresses of running services; empty for services inside the process.</param>
/// <param name="DataFolder">Their data folder where they run inside; null for the usual places.</param>
public sealed record ServicePlace(IReadOnlyList<string> Addresses, string? DataFolder)
{
    /// <summary>Inside the process, in the usual folder.</summary>
    public static ServicePlace Inside { get; } = new([], null);
}
