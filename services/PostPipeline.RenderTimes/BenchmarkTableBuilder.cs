using System.Collections.Immutable;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace PostPipeline.RenderTimes;

/// <summary>Reads rows one by one, says what is wrong with each, and makes a table once all are in.</summary>
public sealed class BenchmarkTableBuilder
{
    /// <summary>The most rows of a set.</summary>
    public const int MaximumRows = 1_000_000;

    /// <summary>How many violations are kept; more are counted only.</summary>
    public const int MaximumViolations = 100;

    /// <summary>The longest time per frame taken for a measurement: a week.</summary>
    public const double MaximumSecondsPerFrame = 604_800;

    private readonly TableSchema schema;
    private readonly bool invented;
    private readonly Dictionary<string, int> positions;
    private readonly List<double> target = [];
    private readonly List<int> family = [];
    private readonly Levels families = new();
    private readonly (Levels Levels, List<int> Codes, int Position)[] categories;
    private readonly (List<double> Values, int Position)[] numbers;
    private readonly List<RowViolation> violations = [];
    private readonly IncrementalHash hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
    private int seen;

    /// <summary>Starts a table.</summary>
    /// <param name="schema">A schema without violations.</param>
    /// <param name="invented">Whether the rows are invented.</param>
    /// <exception cref="ArgumentException">The schema has violations.</exception>
    public BenchmarkTableBuilder(TableSchema schema, bool invented)
    {
        if (schema.Violations() is [RowViolation first, ..])
        {
            throw new ArgumentException($"{first.Field}: {first.Description}.", nameof(schema));
        }

        this.schema = schema;
        this.invented = invented;
        positions = schema.Columns.Select((name, index) => (name, index)).ToDictionary(c => c.name, c => c.index, StringComparer.Ordinal);
        categories = [.. schema.CategoryColumns.Select(c => (new Levels(), new List<int>(), positions[c]))];
        numbers = [.. schema.NumberColumns.Select(c => (new List<double>(), positions[c]))];
        Hash([schema.TargetColumn, schema.FramesColumn, schema.FamilyColumn, invented ? "invented" : "measured"]);
        Hash(schema.Columns);
        Hash(schema.CategoryColumns);
        Hash(schema.NumberColumns);
    }

    /// <summary>Rows read, good and bad.</summary>
    public int RowsSeen => seen;

    /// <summary>What was wrong, at most <see cref="MaximumViolations"/> of it.</summary>
    public IReadOnlyList<RowViolation> Violations => violations;

    /// <summary>Reads one row; false where something is wrong with it.</summary>
    /// <param name="cells">A cell for each column.</param>
    public bool Add(IReadOnlyList<string> cells)
    {
        int row = seen++;
        if (row == MaximumRows)
        {
            return Wrong("rows", $"there are more than {MaximumRows:N0} rows");
        }

        if (cells.Count != schema.Columns.Length)
        {
            return Wrong($"rows[{row}]", $"it has {cells.Count} cells; the header has {schema.Columns.Length} columns");
        }

        if (cells.FirstOrDefault(c => c.Length > TableSchema.MaximumCellLength) is string tooLong)
        {
            return Wrong($"rows[{row}]", $"a cell has {tooLong.Length} characters; allowed is up to {TableSchema.MaximumCellLength}");
        }

        Hash(cells);
        bool good = TryNumber(row, schema.TargetColumn, cells, out double seconds);
        double frames = 1;
        if (schema.FramesColumn.Length > 0)
        {
            good &= TryNumber(row, schema.FramesColumn, cells, out frames);
            if (good && !(frames >= 1))
            {
                good = Wrong($"rows[{row}].{schema.FramesColumn}", $"{frames} frames; allowed is 1 or more");
            }
        }

        double perFrame = seconds / frames;
        if (good && !(perFrame > 0 && perFrame <= MaximumSecondsPerFrame))
        {
            good = Wrong($"rows[{row}].{schema.TargetColumn}", $"{perFrame} s a frame; allowed is above 0 up to {MaximumSecondsPerFrame} (a week)");
        }

        string name = cells[positions[schema.FamilyColumn]];
        if (name.Length == 0)
        {
            good = Wrong($"rows[{row}].{schema.FamilyColumn}", "it is empty; every row belongs to a family");
        }

        foreach ((List<double> values, int position) in numbers)
        {
            string cell = cells[position].Trim();
            double value = double.NaN;
            if (cell.Length > 0 && (!double.TryParse(cell, NumberStyles.Float, CultureInfo.InvariantCulture, out value) || !double.IsFinite(value)))
            {
                good = Wrong($"rows[{row}].{schema.Columns[position]}", $"'{cell}' is not a finite number; leave the cell empty where the value is missing");
            }

            values.Add(value);
        }

        foreach ((Levels levels, List<int> codes, int position) in categories)
        {
            codes.Add(levels.Code(cells[position].Trim()));
        }

        target.Add(perFrame);
        family.Add(families.Code(name));
        return good;
    }

    /// <summary>The table of all rows.</summary>
    /// <exception cref="InvalidOperationException">A row was wrong, or there is none.</exception>
    public BenchmarkTable Build()
    {
        if (violations.Count > 0 || target.Count == 0)
        {
            throw new InvalidOperationException(violations.Count > 0 ? $"{violations[0].Field}: {violations[0].Description}." : "The table has no rows.");
        }

        return new(
            schema,
            invented,
            Convert.ToHexStringLower(hash.GetHashAndReset()),
            [.. target],
            [.. family],
            families.Names,
            [.. categories.Select(c => new BenchmarkTable.Category(c.Levels.Names, [.. c.Codes]))],
            [.. numbers.Select(n => n.Values.ToArray())]);
    }

    private bool TryNumber(int row, string column, IReadOnlyList<string> cells, out double value)
    {
        string cell = cells[positions[column]].Trim();
        if (double.TryParse(cell, NumberStyles.Float, CultureInfo.InvariantCulture, out value) && double.IsFinite(value))
        {
            return true;
        }

        return Wrong($"rows[{row}].{column}", $"'{cell}' is not a finite number");
    }

    private bool Wrong(string field, string description)
    {
        if (violations.Count < MaximumViolations)
        {
            violations.Add(new(field, description));
        }

        return false;
    }

    // Lengths stand before the texts, so that no two different lists hash the same bytes.
    private void Hash(IReadOnlyList<string> texts)
    {
        StringBuilder line = new();
        foreach (string text in texts)
        {
            line.Append(text.Length).Append(':').Append(text);
        }

        hash.AppendData(Encoding.UTF8.GetBytes(line.Append('\n').ToString()));
    }

    private sealed class Levels
    {
        private readonly Dictionary<string, int> codes = new(StringComparer.Ordinal);

        public ImmutableArray<string> Names => [.. codes.OrderBy(c => c.Value).Select(c => c.Key)];

        public int Code(string name)
        {
            if (!codes.TryGetValue(name, out int code))
            {
                code = codes.Count;
                codes.Add(name, code);
            }

            return code;
        }
    }
}
