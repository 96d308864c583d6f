namespace PostPipeline.Footage.Codings;

/// <summary>The words for kinds, samplings and packings in files and messages.</summary>
public static class CodingText
{
    private static readonly Dictionary<string, CodingKind> Kinds = new(StringComparer.Ordinal)
    {
        ["packed"] = CodingKind.Packed,
        ["photosites"] = CodingKind.Photosites,
        ["fixed-frame"] = CodingKind.FixedFrame,
        ["block-count"] = CodingKind.BlockCount,
        ["bits-per-pixel"] = CodingKind.BitsPerPixel,
        ["rate-limit"] = CodingKind.RateLimit,
        ["bit-rate"] = CodingKind.BitRate,
        ["level"] = CodingKind.Level,
        ["scan-lines"] = CodingKind.ScanLines,
    };

    private static readonly Dictionary<string, Sampling> Samplings = new(StringComparer.Ordinal)
    {
        ["photosites"] = Sampling.Photosites,
        ["4:0:0"] = Sampling.Luma400,
        ["4:2:0"] = Sampling.Chroma420,
        ["4:1:1"] = Sampling.Chroma411,
        ["4:2:2"] = Sampling.Chroma422,
        ["4:4:4"] = Sampling.Full444,
    };

    private static readonly Dictionary<string, Packing> Packings = new(StringComparer.Ordinal)
    {
        ["tight"] = Packing.Tight,
        ["whole-bytes"] = Packing.WholeBytes,
        ["three-in-32"] = Packing.ThreeIn32,
        ["groups-128"] = Packing.Groups128,
    };

    /// <summary>All words for kinds.</summary>
    public static IEnumerable<string> KindWords => Kinds.Keys;

    /// <summary>All words for samplings.</summary>
    public static IEnumerable<string> SamplingWords => Samplings.Keys;

    /// <summary>All words for packings.</summary>
    public static IEnumerable<string> PackingWords => Packings.Keys;

    /// <summary>The word for a kind.</summary>
    /// <param name="kind">A kind.</param>
    public static string Of(CodingKind kind) => Kinds.First(k => k.Value == kind).Key;

    /// <summary>The word for a packing.</summary>
    /// <param name="packing">A packing.</param>
    public static string Of(Packing packing) => Packings.First(p => p.Value == packing).Key;

    /// <summary>The word for a sampling.</summary>
    /// <param name="sampling">A sampling.</param>
    public static string Of(Sampling sampling) => Samplings.First(s => s.Value == sampling).Key;

    /// <summary>Reads a kind.</summary>
    /// <param name="word">One of <see cref="KindWords"/>.</param>
    /// <param name="kind">The kind.</param>
    public static bool TryParse(string word, out CodingKind kind) => Kinds.TryGetValue(word, out kind);

    /// <summary>Reads a sampling.</summary>
    /// <param name="word">One of <see cref="SamplingWords"/>.</param>
    /// <param name="sampling">The sampling.</param>
    public static bool TryParse(string word, out Sampling sampling) => Samplings.TryGetValue(word, out sampling);

    /// <summary>Reads a packing.</summary>
    /// <param name="word">One of <see cref="PackingWords"/>.</param>
    /// <param name="packing">The packing.</param>
    public static bool TryParse(string word, out Packing packing) => Packings.TryGetValue(word, out packing);
}
