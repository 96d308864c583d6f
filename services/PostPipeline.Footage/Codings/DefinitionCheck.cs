using PostPipeline.Quantities;

namespace PostPipeline.Footage.Codings;

/// <summary>
/// Reads a definition field by field, remembers which were read and collects all that is wrong. A field that was
/// given but means nothing for the kind is wrong too: it would promise something that is not done.
/// </summary>
internal sealed class DefinitionCheck(CodingDefinition definition)
{
    private readonly HashSet<string> read = [];

    public CodingDefinition Definition { get; } = definition;

    public List<FieldProblem> Problems { get; } = [];

    public CodingKind? Kind()
    {
        if (!IsId(Definition.Id))
        {
            Add("id", $"'{Definition.Id}' is not a name; allowed are 1 to 64 lower-case letters, digits, dots and hyphens");
        }

        if (Definition.Source.Length == 0)
        {
            Add("source", "is missing; say where the figures come from, for example 'measured on our own pictures'");
        }

        if (Definition.Kind is null || !Enum.IsDefined(Definition.Kind.Value))
        {
            Add("kind", "is missing or not known");
            return null;
        }

        return Definition.Kind;
    }

    public int Number(string field, int? value, int low, int high, int? ifAbsent = null) =>
        checked((int)Number(field, (long?)value, low, high, ifAbsent));

    public long Number(string field, long? value, long low, long high, long? ifAbsent = null)
    {
        read.Add(field);
        if (value is null)
        {
            if (ifAbsent is null)
            {
                Add(field, "is missing");
            }

            return ifAbsent ?? low;
        }

        if (value < low || value > high)
        {
            Add(field, $"is {value}; allowed is {low} to {high}");
            return low;
        }

        return value.Value;
    }

    public Rational? Fraction(string field, Rational? value, Rational low, Rational high)
    {
        read.Add(field);
        if (value is not null && (value < low || value > high))
        {
            Add(field, $"is {value}; allowed is {low} to {high}");
            return null;
        }

        return value;
    }

    public Sampling NeedSampling()
    {
        MayHaveBase();
        if (Definition.Sampling is null || !Enum.IsDefined(Definition.Sampling.Value))
        {
            Add("sampling", "is missing or not known; allowed are photosites, 4:0:0, 4:2:0, 4:1:1, 4:2:2, 4:4:4");
            return default;
        }

        return Definition.Sampling.Value;
    }

    public int NeedBitDepth()
    {
        MayHaveBase();
        return Number("bit_depth", Definition.BitDepth, 1, 32);
    }

    /// <summary>A compressed coding may say what the picture was before.</summary>
    public void MayHaveBase()
    {
        read.Add("sampling");
        read.Add("bit_depth");
        read.Add("alpha");
    }

    public void Add(string field, string problem) => Problems.Add(new(field, problem));

    public void Read(string field) => read.Add(field);

    public void RefuseUnused()
    {
        if (Definition.Kind is null)
        {
            return;
        }

        CodingDefinition d = Definition;
        (string Field, bool Given)[] fields =
        [
            ("sampling", d.Sampling is not null), ("bit_depth", d.BitDepth is not null), ("stored_bits", d.StoredBits is not null),
            ("alpha", d.Alpha), ("packing", d.Packing is not null), ("row_alignment_bytes", d.RowAlignmentBytes is not null),
            ("header_bytes", d.HeaderBytes is not null), ("compression_ratio", d.CompressionRatio is not null),
            ("bits_per_pixel_low", d.BitsPerPixelLow is not null), ("bits_per_pixel", d.BitsPerPixel is not null),
            ("bits_per_pixel_peak", d.BitsPerPixelPeak is not null), ("width", d.Width is not null), ("height", d.Height is not null),
            ("frame_bytes", d.FrameBytes is not null), ("bytes_per_255_blocks", d.BytesPer255Blocks is not null),
            ("bits_per_second", d.BitsPerSecond is not null), ("peak_bits_per_second", d.PeakBitsPerSecond is not null),
            ("level_table", d.LevelTable is not null), ("profile", d.Profile is not null), ("level", d.Level is not null),
            ("half_channels", d.HalfChannels is not null), ("float_channels", d.FloatChannels is not null),
            ("lines_per_block", d.LinesPerBlock is not null),
        ];
        foreach ((string field, bool given) in fields)
        {
            if (given && !read.Contains(field))
            {
                Add(field, $"means nothing for a coding of kind {CodingText.Of(Definition.Kind.Value)}");
            }
        }
    }

    private static bool IsId(string id) =>
        id.Length is > 0 and <= 64 && id.All(c => char.IsAsciiLetterLower(c) || char.IsAsciiDigit(c) || c is '.' or '-');
}
