using PostPipeline.Quantities;

namespace PostPipeline.Footage.Codings;

/// <summary>
/// How pictures become bytes. Each rule is a class of its own; all answer one question: how many bytes has a
/// frame of this raster at this rate?
/// </summary>
public abstract class Coding
{
    private protected Coding(CodingDefinition definition)
    {
        Definition = definition;
        if (definition is { Sampling: { } sampling, BitDepth: { } depth })
        {
            BaseBitsPerPixel = SamplingPlanes.PerPixel(sampling, definition.Alpha) * depth;
            BaseInWords = $"{depth}-bit {Name(sampling)}";
        }
    }

    /// <summary>The data the coding was made from.</summary>
    public CodingDefinition Definition { get; }

    /// <summary>A short name.</summary>
    public string Id => Definition.Id;

    /// <summary>Where the rule and its figures come from.</summary>
    public string Source => Definition.Source;

    /// <summary>Bits a pixel before compression: the base of every ratio. Null where sampling or depth is not stated.</summary>
    public Rational? BaseBitsPerPixel { get; }

    /// <summary>The base of a ratio in words, such as <c>12-bit photosites</c>.</summary>
    public string BaseInWords { get; } = "no stated base";

    /// <summary>The one raster that the coding carries, or null where it carries any.</summary>
    public virtual Raster? OnlyRaster => null;

    /// <summary>The formula that <see cref="BytesPerFrame"/> evaluates, in symbols.</summary>
    public abstract string Formula { get; }

    /// <summary>Bytes a frame.</summary>
    /// <param name="raster">The recorded raster.</param>
    /// <param name="playRate">Frames played back a second; only rules about bit rates use it, because a bit rate is that of the file as it plays.</param>
    /// <exception cref="ArgumentOutOfRangeException">The coding does not carry this raster or rate; the message says what it carries.</exception>
    public abstract FrameBytes BytesPerFrame(Raster raster, FrameRate playRate);

    /// <summary>The numbers that went into <see cref="Formula"/>, by symbol.</summary>
    /// <param name="raster">The recorded raster.</param>
    /// <param name="playRate">Frames played back a second.</param>
    public abstract IEnumerable<(string Symbol, string Value, string Unit)> Inputs(Raster raster, FrameRate playRate);

    /// <summary>Makes the coding that a definition describes.</summary>
    /// <param name="definition">The data.</param>
    /// <param name="coding">The coding, or null.</param>
    /// <returns>Everything that is wrong; empty where the coding was made.</returns>
    public static IReadOnlyList<FieldProblem> TryCreate(CodingDefinition definition, out Coding? coding)
    {
        DefinitionCheck check = new(definition);
        coding = check.Kind() switch
        {
            CodingKind.Packed => PackedCoding.From(check),
            CodingKind.Photosites => PhotositeCoding.From(check),
            CodingKind.FixedFrame => FixedFrameCoding.From(check),
            CodingKind.BlockCount => BlockCountCoding.From(check),
            CodingKind.BitsPerPixel => BitsPerPixelCoding.From(check),
            CodingKind.RateLimit => RateLimitCoding.From(check),
            CodingKind.BitRate => BitRateCoding.From(check),
            CodingKind.Level => LevelCoding.From(check),
            CodingKind.ScanLines => ScanLinesCoding.From(check),
            _ => null,
        };
        check.RefuseUnused();
        coding = check.Problems.Count == 0 ? coding : null;
        return check.Problems;
    }

    /// <summary>Makes the coding that a definition describes.</summary>
    /// <param name="definition">The data.</param>
    /// <exception cref="ArgumentException">The definition is wrong; the message says all that is.</exception>
    public static Coding From(CodingDefinition definition)
    {
        IReadOnlyList<FieldProblem> problems = TryCreate(definition, out Coding? coding);
        return coding ?? throw new ArgumentException($"The coding '{definition.Id}' is not usable: {string.Join("; ", problems)}", nameof(definition));
    }

    /// <summary>The title, for messages.</summary>
    public override string ToString() => Definition.Title.Length > 0 ? Definition.Title : Id;

    private protected static string Name(Sampling sampling) => sampling switch
    {
        Sampling.Photosites => "photosites",
        Sampling.Luma400 => "4:0:0",
        Sampling.Chroma420 => "4:2:0",
        Sampling.Chroma411 => "4:1:1",
        Sampling.Chroma422 => "4:2:2",
        _ => "4:4:4",
    };

    private protected static IEnumerable<(string Symbol, string Value, string Unit)> RasterInputs(Raster raster) =>
        [("W", $"{raster.Width}", "px"), ("H", $"{raster.Height}", "px")];
}
