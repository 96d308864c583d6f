using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Studies.Briefs;

namespace PostPipeline.Studies.Benchmarks;

/// <summary>
/// What the columns of anybody's table of measurements are for. The words are the same wherever a table is mapped:
/// target, frames, family, categories, numbers.
/// </summary>
public sealed record ColumnMapping
{
    /// <summary>Column with seconds per frame, or with seconds where <see cref="Frames"/> names a column.</summary>
    public string Target { get; init; } = "seconds_per_frame";

    /// <summary>Column that the target is divided by; empty where the target is seconds per frame.</summary>
    public string Frames { get; init; } = string.Empty;

    /// <summary>Column of the families that are held out whole.</summary>
    public string Family { get; init; } = "project";

    /// <summary>Feature columns that are names.</summary>
    public IReadOnlyList<string> Categories { get; init; } = [];

    /// <summary>Feature columns that are numbers; an empty cell is a missing value.</summary>
    public IReadOnlyList<string> Numbers { get; init; } = [];

    /// <summary>All features: the categories, then the numbers.</summary>
    public IReadOnlyList<string> Features => [.. Categories, .. Numbers];

    /// <summary>The mapping of a header that is written already.</summary>
    /// <param name="header">The header.</param>
    public static ColumnMapping Of(BenchmarkHeader header) => new()
    {
        Target = header.TargetColumn,
        Frames = header.FramesColumn,
        Family = header.FamilyColumn,
        Categories = [.. header.CategoryColumns],
        Numbers = [.. header.NumberColumns],
    };

    /// <summary>Names in one text, parted by commas; a name with a comma in it is quoted (RFC 4180).</summary>
    /// <param name="text">Such as <c>input_width, input_height</c>; may be empty.</param>
    public static IReadOnlyList<string> Names(string text)
    {
        using StringReader reader = new(text);
        return [.. CsvRows.Read(reader).SelectMany(row => row.Cells).Select(name => name.Trim()).Where(name => name.Length > 0)];
    }

    /// <summary>The same with features where none are named: those of our own benchmark files, as far as the table has them.</summary>
    /// <param name="columns">The columns of the table.</param>
    public ColumnMapping WithUsualFeatures(IReadOnlyList<string> columns) => Categories.Count + Numbers.Count > 0 ? this : this with
    {
        Categories = [.. InventedBenchmarks.Header().CategoryColumns.Intersect(columns)],
        Numbers = [.. InventedBenchmarks.Header().NumberColumns.Append("threads").Intersect(columns)],
    };

    /// <summary>The header for an import of a table.</summary>
    /// <param name="file">The table as the user named it.</param>
    /// <param name="columns">Its columns.</param>
    /// <param name="prefix">What stands before a role's name where the user writes it: <c>--</c> on the command line.</param>
    /// <exception cref="BriefException">The table lacks columns, each named with its role, or no feature is named.</exception>
    public BenchmarkHeader Header(string file, IReadOnlyList<string> columns, string prefix = "")
    {
        string has = $"it has {string.Join(", ", columns)}";
        IEnumerable<(string Role, string Column)> named =
        [
            ("target", Target), ("family", Family), .. Frames.Length > 0 ? [("frames", Frames)] : Array.Empty<(string, string)>(),
            .. Categories.Select(c => ("categories", c)), .. Numbers.Select(n => ("numbers", n)),
        ];
        List<BriefProblem> problems =
        [
            .. named.Where(n => !columns.Contains(n.Column)).Select(n => new BriefProblem(file, 1, 0, prefix + n.Role, n.Column, $"the file has no such column; {has}")),
        ];
        if (Features.Count == 0)
        {
            problems.Add(new(file, 1, 0, $"{prefix}numbers", string.Empty, $"name the feature columns with {prefix}categories and {prefix}numbers; {has}"));
        }

        if (problems.Count > 0)
        {
            throw new BriefException(problems);
        }

        BenchmarkHeader header = new() { Name = Path.GetFileName(file), TargetColumn = Target, FramesColumn = Frames, FamilyColumn = Family };
        header.Columns.AddRange(columns);
        header.CategoryColumns.AddRange(Categories);
        header.NumberColumns.AddRange(Numbers);
        return header;
    }

    /// <summary>Columns of a table that this leaves alone.</summary>
    /// <param name="columns">The columns of the table.</param>
    public IReadOnlyList<string> Unused(IReadOnlyList<string> columns) => [.. columns.Except(Features).Except([Target, Family, Frames])];
}
