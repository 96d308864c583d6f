using System.Collections.Immutable;

namespace PostPipeline.RenderTimes;

/// <summary>Valid measurements, column by column.</summary>
public sealed class BenchmarkTable
{
    internal BenchmarkTable(
        TableSchema schema, bool invented, string contentHash, double[] secondsPerFrame, int[] family, ImmutableArray<string> families, Category[] categories, double[][] numbers)
    {
        Schema = schema;
        Invented = invented;
        ContentHash = contentHash;
        SecondsPerFrame = secondsPerFrame;
        Family = family;
        Families = families;
        Categories = categories;
        Numbers = numbers;
    }

    /// <summary>What the columns are for.</summary>
    public TableSchema Schema { get; }

    /// <summary>Whether the rows are invented; everything that rests on them says so.</summary>
    public bool Invented { get; }

    /// <summary>SHA-256 of schema, origin and cells as 64 hexadecimal digits: the set's name.</summary>
    public string ContentHash { get; }

    /// <summary>Rows.</summary>
    public int Count => SecondsPerFrame.Length;

    /// <summary>The names of the families in order of appearance.</summary>
    public ImmutableArray<string> Families { get; }

    /// <summary>The measured target of each row, above zero.</summary>
    internal double[] SecondsPerFrame { get; }

    /// <summary>The family of each row as an index into <see cref="Families"/>.</summary>
    internal int[] Family { get; }

    /// <summary>The category features in the schema's order.</summary>
    internal Category[] Categories { get; }

    /// <summary>The number features in the schema's order; NaN where a cell is empty.</summary>
    internal double[][] Numbers { get; }

    /// <summary>The rows at some positions, as a table of their own with the same levels.</summary>
    /// <param name="rows">Positions of rows.</param>
    internal BenchmarkTable Take(int[] rows) => new(
        Schema,
        Invented,
        ContentHash,
        [.. rows.Select(r => SecondsPerFrame[r])],
        [.. rows.Select(r => Family[r])],
        Families,
        [.. Categories.Select(c => new Category(c.Levels, [.. rows.Select(r => c.Codes[r])]))],
        [.. Numbers.Select(n => rows.Select(r => n[r]).ToArray())]);

    /// <summary>The same rows with only the families that occur, so that folds over families are never empty.</summary>
    internal BenchmarkTable WithOccurringFamilies()
    {
        int[] occurring = [.. Family.Distinct().Order()];
        Dictionary<int, int> place = occurring.Select((family, i) => (family, i)).ToDictionary(f => f.family, f => f.i);
        return new(Schema, Invented, ContentHash, SecondsPerFrame, [.. Family.Select(f => place[f])], [.. occurring.Select(f => Families[f])], Categories, Numbers);
    }

    /// <summary>The same rows with other times.</summary>
    /// <param name="seconds">A time for each row.</param>
    internal BenchmarkTable WithSeconds(double[] seconds) => new(Schema, Invented, ContentHash, seconds, Family, Families, Categories, Numbers);

    /// <summary>A category feature: its levels in order of appearance, and the level of each row.</summary>
    /// <param name="Levels">Distinct values.</param>
    /// <param name="Codes">The level of each row.</param>
    internal sealed record Category(ImmutableArray<string> Levels, int[] Codes);
}
