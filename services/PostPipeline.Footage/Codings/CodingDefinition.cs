using PostPipeline.Quantities;

namespace PostPipeline.Footage.Codings;

/// <summary>
/// A coding as data: what a row of the catalogue, a row of a user's own file or a request says. Which fields a
/// definition needs depends on its kind; <see cref="Coding.TryCreate"/> says what is missing or too much.
/// </summary>
public sealed record CodingDefinition
{
    /// <summary>A short name: lower-case letters, digits, dots and hyphens.</summary>
    public string Id { get; init; } = string.Empty;

    /// <summary>What a person calls it.</summary>
    public string Title { get; init; } = string.Empty;

    /// <summary>The rule that gives bytes a frame.</summary>
    public CodingKind? Kind { get; init; }

    /// <summary>Where the rule and its figures come from.</summary>
    public string Source { get; init; } = string.Empty;

    /// <summary>Values a pixel; for a compressed coding, of the picture before compression.</summary>
    public Sampling? Sampling { get; init; }

    /// <summary>Bits a value, 1 to 32; for a compressed coding, before compression.</summary>
    public int? BitDepth { get; init; }

    /// <summary>Bits in which a photosite's value lies, where more than the depth: 16 for 12-in-16.</summary>
    public int? StoredBits { get; init; }

    /// <summary>Whether there is one more value a pixel.</summary>
    public bool Alpha { get; init; }

    /// <summary>How uncompressed values lie in bytes.</summary>
    public Packing? Packing { get; init; }

    /// <summary>Bytes to a multiple of which each row is padded; 1 is none, 0 lets values run on across rows.</summary>
    public int? RowAlignmentBytes { get; init; }

    /// <summary>Bytes before the picture in each frame's file.</summary>
    public long? HeaderBytes { get; init; }

    /// <summary>Compression against depth × photosites, at least 1.</summary>
    public Rational? CompressionRatio { get; init; }

    /// <summary>The least bits a pixel.</summary>
    public Rational? BitsPerPixelLow { get; init; }

    /// <summary>Bits a pixel on average.</summary>
    public Rational? BitsPerPixel { get; init; }

    /// <summary>The most bits a pixel.</summary>
    public Rational? BitsPerPixelPeak { get; init; }

    /// <summary>The one width of a coding with one raster.</summary>
    public int? Width { get; init; }

    /// <summary>The one height of a coding with one raster.</summary>
    public int? Height { get; init; }

    /// <summary>Bytes a frame of a coding with one size.</summary>
    public long? FrameBytes { get; init; }

    /// <summary>Bytes for each 255 blocks of 16×16 pixels (SMPTE ST 2019-1).</summary>
    public long? BytesPer255Blocks { get; init; }

    /// <summary>Bits a second, average or limit by the kind.</summary>
    public long? BitsPerSecond { get; init; }

    /// <summary>The most bits a second where <see cref="BitsPerSecond"/> is an average.</summary>
    public long? PeakBitsPerSecond { get; init; }

    /// <summary>The table of levels: <c>h264</c>, <c>h265</c> or <c>jpeg2000</c>.</summary>
    public string? LevelTable { get; init; }

    /// <summary>The column of that table: a profile, or a tier.</summary>
    public string? Profile { get; init; }

    /// <summary>A level, where it is not the lowest that serves.</summary>
    public string? Level { get; init; }

    /// <summary>Channels of half precision.</summary>
    public int? HalfChannels { get; init; }

    /// <summary>Channels of single precision or 32-bit integers.</summary>
    public int? FloatChannels { get; init; }

    /// <summary>Scan lines in a compressed block; 1 without compression.</summary>
    public int? LinesPerBlock { get; init; }

    /// <summary>Whether each frame stands alone.</summary>
    public bool? Intra { get; init; }

    /// <summary>Whether a range can be cut out without coding again.</summary>
    public Trimmable Trimmable { get; init; }
}
