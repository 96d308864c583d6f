namespace PostPipeline.Studies.Benchmarks;

/// <summary>Finds invented rows in files of one's own: a file that holds rows of the demonstration is no measurement, whatever it is called.</summary>
public static class InventedRows
{
    /// <summary>How many rows of a file are rows of the demonstration, cell by cell, under whatever header.</summary>
    /// <param name="file">The file.</param>
    public static int CountIn(RowFile file)
    {
        static string Key(IEnumerable<string> cells) => string.Join('\u001f', cells);
        HashSet<string> invented = [.. InventedBenchmarks.Rows().Concat(InventedOwnRows.Rows()).Select(r => Key(r))];
        return file.Rows().Count(r => invented.Contains(Key(r.Cells)));
    }
}
