using System.Text.Json;
using PostPipeline.Contracts.Timecodes.V1;

namespace PostPipeline.Client.Conforming;

/// <summary>
/// How the headers of somebody else's table become ours, remembered in a small JSON file beside the table:
/// <c>{"columns": {"Clip": "name"}, "constants": {"rate": "24"}, "words": {"rate": {"23.98": "24000/1001"}}}</c>.
/// </summary>
public sealed record HeaderMapping
{
    private const long MostBytes = 1 << 20;

    private static readonly JsonSerializerOptions Options = new() { PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower, WriteIndented = true, UnmappedMemberHandling = System.Text.Json.Serialization.JsonUnmappedMemberHandling.Disallow };

    /// <summary>Our header by header of the table.</summary>
    public SortedDictionary<string, string> Columns { get; init; } = new(StringComparer.OrdinalIgnoreCase);

    /// <summary>A value for every row, by our header.</summary>
    public SortedDictionary<string, string> Constants { get; init; } = new(StringComparer.Ordinal);

    /// <summary>Words to be replaced, by our header.</summary>
    public SortedDictionary<string, SortedDictionary<string, string>> Words { get; init; } = new(StringComparer.Ordinal);

    /// <summary>Whether nothing is mapped.</summary>
    public bool IsEmpty => Columns.Count == 0 && Constants.Count == 0 && Words.Count == 0;

    /// <summary>The file that remembers the mapping of a table.</summary>
    /// <param name="tablePath">The table's path.</param>
    public static string PathBeside(string tablePath) => tablePath + ".mapping.json";

    /// <summary>Reads a mapping; an empty one where the file is not there.</summary>
    /// <param name="path">The file.</param>
    /// <exception cref="IOException">The file cannot be read or is no mapping.</exception>
    public static HeaderMapping Read(string path)
    {
        if (!File.Exists(path))
        {
            return new();
        }

        if (new FileInfo(path).Length > MostBytes)
        {
            throw new IOException($"'{path}' is longer than {MostBytes} bytes, which is the limit of a mapping.");
        }

        try
        {
            HeaderMapping read = JsonSerializer.Deserialize<HeaderMapping>(File.ReadAllBytes(path), Options) ?? new();

            // The deserialiser does not keep the comparer.
            return read with { Columns = new(read.Columns, StringComparer.OrdinalIgnoreCase) };
        }
        catch (Exception failure) when (failure is JsonException or ArgumentException)
        {
            throw new IOException($"'{path}' is no mapping of headers: {failure.Message}", failure);
        }
    }

    /// <summary>Writes the mapping to a temporary name and renames it.</summary>
    /// <param name="path">The file.</param>
    public void Write(string path)
    {
        string temporary = $"{path}.{Guid.NewGuid():N}.part";
        try
        {
            File.WriteAllBytes(temporary, JsonSerializer.SerializeToUtf8Bytes(this, Options));
            File.Move(temporary, path, overwrite: true);
        }
        finally
        {
            File.Delete(temporary);
        }
    }

    /// <summary>The mapping as the service takes it.</summary>
    public InventoryMapping ToMessage()
    {
        InventoryMapping message = new() { Columns = { Columns }, Constants = { Constants } };
        foreach ((string column, SortedDictionary<string, string> words) in Words)
        {
            message.Words.AddRange(words.Select(word => new WordMapping { Column = column, Word = word.Key, Meaning = word.Value }));
        }

        return message;
    }
}
