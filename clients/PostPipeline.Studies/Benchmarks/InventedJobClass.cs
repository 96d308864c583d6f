namespace PostPipeline.Studies.Benchmarks;

/// <summary>A kind of job in the invented benchmarks: what goes in, what is done, what comes out.</summary>
/// <param name="InputCoding">raw, intra, long-gop or exr.</param>
/// <param name="DebayerScale">1, 1/2, 1/4, or none where the input is not raw.</param>
/// <param name="NoiseReduction">none, spatial or temporal.</param>
/// <param name="Layers">Effect layers.</param>
/// <param name="OutputCoding">proxy, mezzanine, master, exr or jpeg2000.</param>
/// <param name="OutputWidth">Pixels across; 0 for as many as the input has.</param>
/// <param name="Efficiency">The part of the cores that the job keeps busy.</param>
public sealed record InventedJobClass(
    string InputCoding, string DebayerScale, string NoiseReduction, int Layers, string OutputCoding, int OutputWidth, double Efficiency)
{
    /// <summary>All kinds of job in the invented set.</summary>
    public static IReadOnlyList<InventedJobClass> All { get; } =
    [
        new("raw", "1/2", "none", 0, "proxy", 1920, 0.15),
        new("raw", "1", "none", 0, "mezzanine", 3840, 0.16),
        new("raw", "1", "spatial", 0, "mezzanine", 3840, 0.11),
        new("raw", "1", "temporal", 2, "master", 0, 0.10),
        new("raw", "1", "none", 2, "master", 0, 0.14),
        new("raw", "1", "none", 0, "exr", 0, 0.10),
        new("intra", "none", "none", 0, "proxy", 1920, 0.18),
        new("intra", "none", "none", 2, "master", 0, 0.16),
        new("intra", "none", "temporal", 2, "master", 0, 0.10),
        new("long-gop", "none", "none", 0, "proxy", 1920, 0.14),
        new("long-gop", "none", "none", 0, "mezzanine", 3840, 0.14),
        new("exr", "none", "none", 0, "jpeg2000", 0, 0.14),
    ];
}
