using System.Collections.Immutable;
using System.Text.Json.Serialization;
using PostPipeline.Quantities;

namespace PostPipeline.RenderTimes.Features;

/// <summary>
/// Turns features into numbers: logarithms of numbers that never fall below zero, a mark where a number is
/// missing, and one column for each level of a category. What was learned from the training rows (levels,
/// medians, offsets) is kept, so that a question later is encoded in the same way.
/// </summary>
/// <param name="Numbers">How each number column is encoded.</param>
/// <param name="Categories">The levels seen of each category column.</param>
/// <param name="Combinations">The combinations of categories that were seen, in order, joined by commas; none where there are too many to learn.</param>
internal sealed record FeatureEncoder(ImmutableArray<NumberEncoding> Numbers, ImmutableArray<CategoryEncoding> Categories, ImmutableArray<string> Combinations)
{
    /// <summary>How many of the encoded columns, the first ones, come from numbers.</summary>
    [JsonIgnore]
    public int NumberWidth => Numbers.Sum(n => n.MayBeMissing ? 2 : 1);

    /// <summary>How many encoded columns a row has.</summary>
    [JsonIgnore]
    public int Width => NumberWidth + Categories.Sum(c => c.Levels.Length) + Combinations.Length;

    /// <summary>With more combinations of categories than this, each is too rare to have a column of its own.</summary>
    public const int MaximumCombinations = 60;

    /// <summary>Learns the encoding from the rows of a table.</summary>
    /// <param name="table">The training rows.</param>
    public static FeatureEncoder Learn(BenchmarkTable table) => new(
        [.. table.Schema.NumberColumns.Select((name, i) => NumberEncoding.Learn(name, table.Numbers[i]))],
        [.. table.Schema.CategoryColumns.Select((name, i) => new CategoryEncoding(
            name, [.. table.Categories[i].Codes.Distinct().Order().Select(code => table.Categories[i].Levels[code])]))],
        LearnCombinations(table));

    /// <summary>Names of the encoded columns.</summary>
    public IEnumerable<string> ColumnNames() =>
        Numbers.SelectMany(n => n.MayBeMissing ? new[] { n.Name, $"{n.Name} missing" } : [n.Name])
            .Concat(Categories.SelectMany(c => c.Levels.Select(level => $"{c.Name} = {level}")))
            .Concat(Combinations);

    /// <summary>Encodes every row of a table.</summary>
    /// <param name="table">A table with the same schema.</param>
    public double[][] Encode(BenchmarkTable table)
    {
        Dictionary<string, int>[] index = [.. Categories.Select(c => c.Index())];
        int[][] maps = [.. table.Categories.Select((c, i) => c.Levels.Select(level => index[i].GetValueOrDefault(level, -1)).ToArray())];
        double[][] rows = new double[table.Count][];
        for (int row = 0; row < rows.Length; row++)
        {
            double[] numbers = new double[Numbers.Length];
            int[] codes = new int[Categories.Length];
            for (int i = 0; i < numbers.Length; i++)
            {
                numbers[i] = table.Numbers[i][row];
            }

            for (int i = 0; i < codes.Length; i++)
            {
                codes[i] = maps[i][table.Categories[i].Codes[row]];
            }

            rows[row] = Encode(numbers, codes);
        }

        return rows;
    }

    /// <summary>Encodes one row.</summary>
    /// <param name="numbers">Values of the number columns; NaN where missing.</param>
    /// <param name="codes">Levels of the category columns; −1 for a level never seen, which leaves all its columns zero.</param>
    public double[] Encode(ReadOnlySpan<double> numbers, ReadOnlySpan<int> codes)
    {
        double[] encoded = new double[Width];
        int at = 0;
        for (int i = 0; i < Numbers.Length; i++)
        {
            NumberEncoding number = Numbers[i];
            encoded[at++] = number.Encode(numbers[i]);
            if (number.MayBeMissing)
            {
                encoded[at++] = double.IsNaN(numbers[i]) ? 1 : 0;
            }
        }

        for (int i = 0; i < Categories.Length; i++)
        {
            if (codes[i] >= 0)
            {
                encoded[at + codes[i]] = 1;
            }

            at += Categories[i].Levels.Length;
        }

        int combination = Combinations.Length > 0 ? Combinations.BinarySearch(Combination(codes), StringComparer.Ordinal) : -1;
        if (combination >= 0)
        {
            encoded[at + combination] = 1;
        }

        return encoded;
    }

    private static ImmutableArray<string> LearnCombinations(BenchmarkTable table)
    {
        if (table.Categories.Length < 2)
        {
            return [];
        }

        HashSet<string> found = new(StringComparer.Ordinal);
        for (int row = 0; row < table.Count && found.Count <= MaximumCombinations; row++)
        {
            found.Add(string.Join(", ", table.Categories.Select(c => c.Levels[c.Codes[row]])));
        }

        return found.Count > MaximumCombinations ? [] : [.. found.Order(StringComparer.Ordinal)];
    }

    private string Combination(ReadOnlySpan<int> codes)
    {
        string[] names = new string[codes.Length];
        for (int i = 0; i < names.Length; i++)
        {
            names[i] = codes[i] < 0 ? string.Empty : Categories[i].Levels[codes[i]];
        }

        return string.Join(", ", names);
    }
}

/// <summary>How a number column is encoded.</summary>
/// <param name="Name">The column.</param>
/// <param name="Logarithm">Whether the logarithm of value + offset is taken.</param>
/// <param name="Offset">What is added before the logarithm.</param>
/// <param name="Median">The median of the values seen, which stands in for a missing one.</param>
/// <param name="MayBeMissing">Whether a training row lacked the value.</param>
internal sealed record NumberEncoding(string Name, bool Logarithm, double Offset, double Median, bool MayBeMissing)
{
    public static NumberEncoding Learn(string name, double[] values)
    {
        double[] present = [.. values.Where(v => !double.IsNaN(v))];
        if (present.Length == 0)
        {
            return new(name, false, 0, 0, true);
        }

        bool logarithm = present.Min() >= 0 && present.Max() > 0;

        // Zeros need an offset; a tenth of the median of the rest keeps them apart from small values without a cliff.
        double offset = logarithm && present.Min() == 0 ? Quantiles.Of(present.Where(v => v > 0).ToArray(), 0.5) / 10 : 0;
        return new(name, logarithm, offset, Quantiles.Of(present, 0.5), present.Length < values.Length);
    }

    public double Encode(double value)
    {
        double known = double.IsNaN(value) ? Median : value;
        return Logarithm ? Math.Log(Math.Max(known + Offset, 1e-12)) : known;
    }
}

/// <summary>The levels of a category column.</summary>
/// <param name="Name">The column.</param>
/// <param name="Levels">The levels seen in training.</param>
internal sealed record CategoryEncoding(string Name, ImmutableArray<string> Levels)
{
    public Dictionary<string, int> Index() =>
        Levels.Select((level, code) => (level, code)).ToDictionary(l => l.level, l => l.code, StringComparer.Ordinal);
}
