using System.Globalization;
using PostPipeline.Quantities;

namespace PostPipeline.Footage.Codings;

/// <summary>
/// Reads codings from comma-separated text (RFC 4180): a header row with field names, then one coding a row, empty
/// cells for what does not apply. The catalogue of this library and a user's own file have this one form, so that
/// a spreadsheet can write it. Lines that start with # are comments.
/// </summary>
public static class CodingFile
{
    /// <summary>The most codings in a file.</summary>
    public const int MaximumCodings = 10_000;

    /// <summary>The most characters in a file.</summary>
    public const int MaximumCharacters = 1_000_000;

    private static readonly Dictionary<string, Func<CodingDefinition, string, (CodingDefinition Changed, string? Problem)>> Fields = new(StringComparer.Ordinal)
    {
        ["id"] = static (d, t) => (d with { Id = t }, null),
        ["title"] = static (d, t) => (d with { Title = t }, null),
        ["source"] = static (d, t) => (d with { Source = t }, null),
        ["kind"] = static (d, t) => CodingText.TryParse(t, out CodingKind kind) ? (d with { Kind = kind }, null) : (d, OneOf(t, CodingText.KindWords)),
        ["sampling"] = static (d, t) => CodingText.TryParse(t, out Sampling sampling) ? (d with { Sampling = sampling }, null) : (d, OneOf(t, CodingText.SamplingWords)),
        ["packing"] = static (d, t) => CodingText.TryParse(t, out Packing packing) ? (d with { Packing = packing }, null) : (d, OneOf(t, CodingText.PackingWords)),
        ["bit_depth"] = static (d, t) => Whole(d, t, static (d, v) => d with { BitDepth = v }),
        ["stored_bits"] = static (d, t) => Whole(d, t, static (d, v) => d with { StoredBits = v }),
        ["alpha"] = static (d, t) => YesNo(d, t, static (d, v) => d with { Alpha = v }),
        ["row_alignment_bytes"] = static (d, t) => Whole(d, t, static (d, v) => d with { RowAlignmentBytes = v }),
        ["header_bytes"] = static (d, t) => Long(d, t, static (d, v) => d with { HeaderBytes = v }),
        ["compression_ratio"] = static (d, t) => Fraction(d, t, static (d, v) => d with { CompressionRatio = v }),
        ["bits_per_pixel_low"] = static (d, t) => Fraction(d, t, static (d, v) => d with { BitsPerPixelLow = v }),
        ["bits_per_pixel"] = static (d, t) => Fraction(d, t, static (d, v) => d with { BitsPerPixel = v }),
        ["bits_per_pixel_peak"] = static (d, t) => Fraction(d, t, static (d, v) => d with { BitsPerPixelPeak = v }),
        ["width"] = static (d, t) => Whole(d, t, static (d, v) => d with { Width = v }),
        ["height"] = static (d, t) => Whole(d, t, static (d, v) => d with { Height = v }),
        ["frame_bytes"] = static (d, t) => Long(d, t, static (d, v) => d with { FrameBytes = v }),
        ["bytes_per_255_blocks"] = static (d, t) => Long(d, t, static (d, v) => d with { BytesPer255Blocks = v }),
        ["bits_per_second"] = static (d, t) => Long(d, t, static (d, v) => d with { BitsPerSecond = v }),
        ["peak_bits_per_second"] = static (d, t) => Long(d, t, static (d, v) => d with { PeakBitsPerSecond = v }),
        ["level_table"] = static (d, t) => (d with { LevelTable = t }, null),
        ["profile"] = static (d, t) => (d with { Profile = t }, null),
        ["level"] = static (d, t) => (d with { Level = t }, null),
        ["half_channels"] = static (d, t) => Whole(d, t, static (d, v) => d with { HalfChannels = v }),
        ["float_channels"] = static (d, t) => Whole(d, t, static (d, v) => d with { FloatChannels = v }),
        ["lines_per_block"] = static (d, t) => Whole(d, t, static (d, v) => d with { LinesPerBlock = v }),
        ["intra"] = static (d, t) => YesNo(d, t, static (d, v) => d with { Intra = v }),
        ["trimmable"] = static (d, t) => t switch
        {
            "yes" => (d with { Trimmable = Trimmable.Yes }, null),
            "no" => (d with { Trimmable = Trimmable.No }, null),
            "unknown" => (d, null),
            _ => (d, OneOf(t, ["yes", "no", "unknown"])),
        },
    };

    /// <summary>The names of the columns.</summary>
    public static IEnumerable<string> Columns => Fields.Keys;

    /// <summary>Reads a file whole; all or nothing.</summary>
    /// <param name="text">The file's text, at most <see cref="MaximumCharacters"/>.</param>
    /// <param name="codings">The codings in their order; empty where anything is wrong.</param>
    /// <returns>Everything that is wrong, in order of lines.</returns>
    public static IReadOnlyList<FileProblem> Read(string text, out IReadOnlyList<Coding> codings)
    {
        codings = [];
        if (text.Length > MaximumCharacters)
        {
            return [new(1, 1, string.Empty, $"the file has {text.Length} characters; allowed are {MaximumCharacters}")];
        }

        List<FileProblem> problems = [];
        List<Coding> read = [];
        HashSet<string> ids = [];
        string[]? header = null;
        foreach (CsvRow row in CsvRow.Read(text, problems))
        {
            if (header is null)
            {
                header = Header(row, problems);
                if (problems.Count > 0)
                {
                    return problems;
                }

                continue;
            }

            if (read.Count >= MaximumCodings)
            {
                problems.Add(new(row.Line, 1, string.Empty, $"a file holds at most {MaximumCodings} codings"));
                break;
            }

            Coding? coding = One(row, header, problems);
            if (coding is not null && !ids.Add(coding.Id))
            {
                problems.Add(new(row.Line, row.ColumnOf(Array.IndexOf(header, "id")), "id", $"'{coding.Id}' stands twice in the file"));
            }
            else if (coding is not null)
            {
                read.Add(coding);
            }
        }

        if (header is null)
        {
            problems.Add(new(1, 1, string.Empty, $"the file is empty; it starts with a row of column names such as id,kind,source"));
        }

        codings = problems.Count == 0 ? read : [];
        return problems;
    }

    private static string[] Header(CsvRow row, List<FileProblem> problems)
    {
        string[] header = [.. row.Cells.Select(c => c.Trim())];
        for (int i = 0; i < header.Length; i++)
        {
            if (!Fields.ContainsKey(header[i]))
            {
                problems.Add(new(row.Line, row.ColumnOf(i), header[i], $"is not a column; allowed are {string.Join(", ", Columns)}"));
            }
            else if (Array.IndexOf(header, header[i]) < i)
            {
                problems.Add(new(row.Line, row.ColumnOf(i), header[i], "stands twice in the header"));
            }
        }

        foreach (string needed in (string[])["id", "kind", "source"])
        {
            if (!header.Contains(needed))
            {
                problems.Add(new(row.Line, 1, needed, "is missing from the header"));
            }
        }

        return header;
    }

    private static Coding? One(CsvRow row, string[] header, List<FileProblem> problems)
    {
        int before = problems.Count;
        if (row.Cells.Count != header.Length)
        {
            problems.Add(new(row.Line, 1, string.Empty, $"the row has {row.Cells.Count} cells; the header has {header.Length}"));
            return null;
        }

        CodingDefinition definition = new();
        for (int i = 0; i < header.Length; i++)
        {
            string cell = row.Cells[i].Trim();
            if (cell.Length == 0)
            {
                continue;
            }

            (definition, string? problem) = Fields[header[i]](definition, cell);
            if (problem is not null)
            {
                problems.Add(new(row.Line, row.ColumnOf(i), header[i], problem));
            }
        }

        if (problems.Count > before)
        {
            return null;
        }

        foreach (FieldProblem problem in Coding.TryCreate(definition, out Coding? coding))
        {
            problems.Add(new(row.Line, row.ColumnOf(Math.Max(0, Array.IndexOf(header, problem.Field))), problem.Field, problem.Message));
        }

        return problems.Count > before ? null : Coding.From(definition);
    }

    private static (CodingDefinition Changed, string? Problem) Whole(CodingDefinition d, string text, Func<CodingDefinition, int, CodingDefinition> set) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int value) ? (set(d, value), null) : (d, $"is '{text}'; allowed is a whole number");

    private static (CodingDefinition Changed, string? Problem) Long(CodingDefinition d, string text, Func<CodingDefinition, long, CodingDefinition> set) =>
        long.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out long value) ? (set(d, value), null) : (d, $"is '{text}'; allowed is a whole number");

    private static (CodingDefinition Changed, string? Problem) Fraction(CodingDefinition d, string text, Func<CodingDefinition, Rational, CodingDefinition> set) =>
        Rational.TryParse(text, out Rational value) ? (set(d, value), null) : (d, $"is '{text}'; allowed is a number such as 3.5 or a fraction such as 18/5");

    private static (CodingDefinition Changed, string? Problem) YesNo(CodingDefinition d, string text, Func<CodingDefinition, bool, CodingDefinition> set) =>
        text is "yes" or "no" ? (set(d, text == "yes"), null) : (d, OneOf(text, ["yes", "no"]));

    private static string OneOf(string text, IEnumerable<string> allowed) => $"is '{text}'; allowed are {string.Join(", ", allowed)}";
}
