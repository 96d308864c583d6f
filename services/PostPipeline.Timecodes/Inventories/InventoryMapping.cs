using System.Collections.Immutable;

namespace PostPipeline.Timecodes.Inventories;

/// <summary>How the headers and words of somebody else's table become ours.</summary>
public sealed record InventoryMapping
{
    private static readonly (string Header, InventoryColumn Column)[] Documented =
    [
        ("name", InventoryColumn.Name), ("reel", InventoryColumn.Reel), ("start", InventoryColumn.Start), ("end", InventoryColumn.End),
        ("frames", InventoryColumn.Frames), ("rate", InventoryColumn.Rate), ("drop", InventoryColumn.Drop), ("kind", InventoryColumn.Kind),
        ("camera", InventoryColumn.Camera), ("date", InventoryColumn.Date), ("take", InventoryColumn.Take), ("chunk", InventoryColumn.Chunk),
        ("chunks", InventoryColumn.Chunks), ("bytes", InventoryColumn.Bytes), ("medium", InventoryColumn.Medium),
        ("trimmable", InventoryColumn.Trimmable), ("sensor_rate", InventoryColumn.SensorRate), ("width", InventoryColumn.Width),
        ("height", InventoryColumn.Height),
    ];

    /// <summary>Our own headers and nothing else.</summary>
    public static InventoryMapping None { get; } = new();

    /// <summary>The headers of our own files, in the order in which we write them.</summary>
    public static ImmutableArray<string> DocumentedHeaders { get; } = [.. Documented.Select(d => d.Header)];

    /// <summary>Column by header of the other table; compared without regard to case.</summary>
    public ImmutableDictionary<string, InventoryColumn> Columns { get; init; } =
        ImmutableDictionary.Create<string, InventoryColumn>(StringComparer.OrdinalIgnoreCase);

    /// <summary>A value for every row where the table has no such column, or the cell is empty.</summary>
    public ImmutableDictionary<InventoryColumn, string> Constants { get; init; } = ImmutableDictionary<InventoryColumn, string>.Empty;

    /// <summary>Words to be replaced, by column: 23.98 in a column of rates may mean 24000/1001, and the user says so.</summary>
    public ImmutableDictionary<InventoryColumn, ImmutableDictionary<string, string>> Words { get; init; } =
        ImmutableDictionary<InventoryColumn, ImmutableDictionary<string, string>>.Empty;

    /// <summary>The column of a header, or null where it has none.</summary>
    /// <param name="header">A header, without spaces at its ends.</param>
    public InventoryColumn? ColumnOf(string header)
    {
        if (Columns.TryGetValue(header, out InventoryColumn mapped))
        {
            return mapped;
        }

        return TryParseColumn(header, out InventoryColumn column) ? column : null;
    }

    /// <summary>Our header of a column.</summary>
    /// <param name="column">The column.</param>
    public static string HeaderOf(InventoryColumn column) => Documented[(int)column].Header;

    /// <summary>Reads one of our own headers.</summary>
    /// <param name="header">For example sensor_rate, in any case.</param>
    /// <param name="column">The column, or the first.</param>
    public static bool TryParseColumn(string header, out InventoryColumn column)
    {
        foreach ((string known, InventoryColumn value) in Documented)
        {
            if (known.Equals(header, StringComparison.OrdinalIgnoreCase))
            {
                column = value;
                return true;
            }
        }

        column = default;
        return false;
    }
}
