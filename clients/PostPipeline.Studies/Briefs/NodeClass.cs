namespace PostPipeline.Studies.Briefs;

/// <summary>A class of farm nodes.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Count">How many.</param>
/// <param name="Speed">Speed against the reference node.</param>
/// <param name="Cores">Cores of a node.</param>
/// <param name="ClockGigahertz">Clock, GHz.</param>
/// <param name="MemoryGigabytes">Memory, GB.</param>
/// <param name="Gpu">Graphics class in the benchmarks, or empty.</param>
/// <param name="GpuMemoryGigabytes">Memory of the graphics class, GB.</param>
public sealed record NodeClass(
    string Name,
    int Count,
    double Speed,
    int Cores,
    double ClockGigahertz,
    int MemoryGigabytes,
    string Gpu,
    int GpuMemoryGigabytes);
