using System.Collections.Immutable;
using System.Globalization;
using System.Text;

namespace PostPipeline.RenderTimes.Profiles;

/// <summary>
/// A table in which the same settings were measured for every family: a row of times for each family, a column
/// for each setting. Which columns make a setting and which describe a family is seen from the rows: what never
/// changes inside a family describes it.
/// </summary>
internal sealed class CrossedDesign
{
    private const int FewestFamilies = 8;
    private const int FewestSettings = 8;
    private const double LeastFilled = 0.8;

    private CrossedDesign(BenchmarkTable families, ImmutableArray<string> settings, SettingColumns columns, double[][] times)
    {
        Families = families;
        Settings = settings;
        Columns = columns;
        Times = times;
    }

    /// <summary>One row for each family with the columns that describe it.</summary>
    public BenchmarkTable Families { get; }

    /// <summary>The key of each setting, in order.</summary>
    public ImmutableArray<string> Settings { get; }

    /// <summary>Which columns make a setting.</summary>
    public SettingColumns Columns { get; }

    /// <summary>Mean log seconds per frame by family and setting; NaN where not measured.</summary>
    public double[][] Times { get; }

    /// <summary>Reads a table as a crossed design; null where it is none.</summary>
    /// <param name="table">Any table.</param>
    public static CrossedDesign? TryFrom(BenchmarkTable table)
    {
        int[] present = [.. table.Family.Distinct().Order()];
        if (present.Length < FewestFamilies || table.Count < present.Length * FewestSettings)
        {
            return null;
        }

        int[] position = new int[table.Families.Length];
        Array.Fill(position, -1);
        for (int i = 0; i < present.Length; i++)
        {
            position[present[i]] = i;
        }

        int[] first = new int[present.Length];
        Array.Fill(first, -1);
        for (int row = 0; row < table.Count; row++)
        {
            int family = position[table.Family[row]];
            first[family] = first[family] < 0 ? row : first[family];
        }

        SettingColumns columns = SettingColumns.From(table, row => first[position[table.Family[row]]]);
        if (columns.Categories.Length + columns.Numbers.Length == 0)
        {
            return null;
        }

        Dictionary<string, int> codes = new(StringComparer.Ordinal);
        List<string> keys = [];
        int[] setting = new int[table.Count];
        for (int row = 0; row < table.Count; row++)
        {
            string key = columns.Key(table, row);
            if (!codes.TryGetValue(key, out int code))
            {
                code = keys.Count;
                codes.Add(key, code);
                keys.Add(key);
            }

            setting[row] = code;
        }

        if (keys.Count < FewestSettings || table.Count < LeastFilled * keys.Count * present.Length)
        {
            return null;
        }

        int[] order = [.. Enumerable.Range(0, keys.Count).OrderBy(i => keys[i], StringComparer.Ordinal)];
        int[] rank = new int[order.Length];
        for (int i = 0; i < order.Length; i++)
        {
            rank[order[i]] = i;
        }

        double[][] sums = [.. present.Select(_ => new double[keys.Count])];
        int[][] counts = [.. present.Select(_ => new int[keys.Count])];
        for (int row = 0; row < table.Count; row++)
        {
            int family = position[table.Family[row]];
            sums[family][rank[setting[row]]] += Math.Log(table.SecondsPerFrame[row]);
            counts[family][rank[setting[row]]]++;
        }

        int filled = 0;
        for (int family = 0; family < sums.Length; family++)
        {
            for (int s = 0; s < keys.Count; s++)
            {
                filled += counts[family][s] > 0 ? 1 : 0;
                sums[family][s] = counts[family][s] > 0 ? sums[family][s] / counts[family][s] : double.NaN;
            }
        }

        return filled < LeastFilled * keys.Count * present.Length
            ? null
            : new(columns.Describe(table.Take(first)), [.. order.Select(i => keys[i])], columns, sums);
    }

    /// <summary>The design of some families alone.</summary>
    /// <param name="families">Positions of families.</param>
    public CrossedDesign Take(int[] families) =>
        new(Families.Take(families), Settings, Columns, [.. families.Select(f => Times[f])]);
}

/// <summary>Which columns make a setting.</summary>
/// <param name="Categories">Positions of category columns.</param>
/// <param name="Numbers">Positions of number columns.</param>
internal sealed record SettingColumns(ImmutableArray<int> Categories, ImmutableArray<int> Numbers)
{
    /// <summary>The columns that change inside a family, and those that never change: they tell no family from another.</summary>
    /// <param name="table">The rows.</param>
    /// <param name="firstOfFamily">The first row of a row's family.</param>
    public static SettingColumns From(BenchmarkTable table, Func<int, int> firstOfFamily)
    {
        int[] first = [.. Enumerable.Range(0, table.Count).Select(firstOfFamily)];
        return new(
            [.. Enumerable.Range(0, table.Categories.Length).Where(c =>
            {
                int[] codes = table.Categories[c].Codes;
                return first.Where((f, row) => codes[f] != codes[row]).Any() || codes.All(code => code == codes[0]);
            })],
            [.. Enumerable.Range(0, table.Numbers.Length).Where(n =>
            {
                double[] values = table.Numbers[n];
                return first.Where((f, row) => !values[f].Equals(values[row])).Any() || values.All(v => v.Equals(values[0]));
            })]);
    }

    /// <summary>The setting of a row as one text.</summary>
    /// <param name="table">The rows.</param>
    /// <param name="row">The position.</param>
    public string Key(BenchmarkTable table, int row)
    {
        StringBuilder key = new();
        foreach (int c in Categories)
        {
            key.Append(table.Categories[c].Levels[table.Categories[c].Codes[row]]).Append('\u001f');
        }

        foreach (int n in Numbers)
        {
            Append(key, table.Numbers[n][row]);
        }

        return key.ToString();
    }

    /// <summary>The setting of a question as one text.</summary>
    /// <param name="numbers">Values of all number columns.</param>
    /// <param name="categories">Values of all category columns.</param>
    public string Key(ReadOnlySpan<double> numbers, IReadOnlyList<string> categories)
    {
        StringBuilder key = new();
        foreach (int c in Categories)
        {
            key.Append(categories[c]).Append('\u001f');
        }

        foreach (int n in Numbers)
        {
            Append(key, numbers[n]);
        }

        return key.ToString();
    }

    /// <summary>A table with only the columns that describe a family.</summary>
    /// <param name="table">The rows.</param>
    public BenchmarkTable Describe(BenchmarkTable table)
    {
        int[] categories = [.. Enumerable.Range(0, table.Categories.Length).Except(Categories)];
        int[] numbers = [.. Enumerable.Range(0, table.Numbers.Length).Except(Numbers)];
        TableSchema schema = table.Schema with
        {
            CategoryColumns = [.. categories.Select(c => table.Schema.CategoryColumns[c])],
            NumberColumns = [.. numbers.Select(n => table.Schema.NumberColumns[n])],
        };
        return new(
            schema,
            table.Invented,
            table.ContentHash,
            table.SecondsPerFrame,
            table.Family,
            table.Families,
            [.. categories.Select(c => table.Categories[c])],
            [.. numbers.Select(n => table.Numbers[n])]);
    }

    private static void Append(StringBuilder key, double value) =>
        key.Append(double.IsNaN(value) ? string.Empty : value.ToString("R", CultureInfo.InvariantCulture)).Append('\u001f');
}
