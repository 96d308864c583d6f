using System.Globalization;

namespace PostPipeline.Footage;

/// <summary>The small tables that go with this library, as embedded text.</summary>
internal static class DataTable
{
    /// <summary>The whole text of a table.</summary>
    /// <param name="name">The file's name in the folder Data.</param>
    public static string Text(string name)
    {
        using Stream stream = typeof(DataTable).Assembly.GetManifestResourceStream($"PostPipeline.Footage.Data.{name}")
            ?? throw new InvalidOperationException($"The table {name} is not part of this library.");
        using StreamReader reader = new(stream);
        return reader.ReadToEnd();
    }

    /// <summary>The rows below the header; no cell of these tables holds a comma.</summary>
    /// <param name="name">The file's name in the folder Data.</param>
    public static IEnumerable<string[]> Rows(string name) =>
        Text(name).Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(1).Select(line => line.Split(','));

    /// <summary>A whole number of a table.</summary>
    /// <param name="cell">Its text.</param>
    public static long Whole(string cell) => long.Parse(cell, NumberStyles.None, CultureInfo.InvariantCulture);
}
