using System.Diagnostics.CodeAnalysis;

namespace PostPipeline.Footage.Codings;

/// <summary>
/// Codings by name: those that go with this library, each with its source, and a user's own, which take
/// precedence over ours where the names are equal.
/// </summary>
public sealed class CodingCatalogue
{
    private static readonly Lazy<CodingCatalogue> Loaded = new(Load);
    private readonly Dictionary<string, Coding> byId;

    private CodingCatalogue(IEnumerable<Coding> codings)
    {
        Codings = [.. codings];
        byId = Codings.ToDictionary(c => c.Id, StringComparer.Ordinal);
    }

    /// <summary>The codings that go with this library.</summary>
    public static CodingCatalogue Standard => Loaded.Value;

    /// <summary>All codings, ours first.</summary>
    public IReadOnlyList<Coding> Codings { get; }

    /// <summary>Finds a coding.</summary>
    /// <param name="id">Its name.</param>
    /// <param name="coding">The coding, or null.</param>
    public bool TryFind(string id, [NotNullWhen(true)] out Coding? coding) => byId.TryGetValue(id, out coding);

    /// <summary>A coding by name.</summary>
    /// <param name="id">Its name.</param>
    /// <exception cref="ArgumentException">There is none of this name; the message names near ones.</exception>
    public Coding Find(string id) => TryFind(id, out Coding? coding) ? coding : throw new ArgumentException(NotFound(id), nameof(id));

    /// <summary>What to say where a name is not known.</summary>
    /// <param name="id">The name.</param>
    public string NotFound(string id)
    {
        string stem = id.Split('-', '.')[0];
        string[] near = [.. byId.Keys.Where(k => stem.Length > 0 && k.StartsWith(stem, StringComparison.Ordinal)).Take(6)];
        return $"'{id}' is not in the catalogue of {byId.Count} codings{(near.Length > 0 ? $"; near it are {string.Join(", ", near)}" : string.Empty)}";
    }

    /// <summary>This catalogue with a user's codings before ours.</summary>
    /// <param name="own">The user's codings.</param>
    public CodingCatalogue With(IEnumerable<Coding> own)
    {
        Dictionary<string, Coding> all = own.ToDictionary(c => c.Id, StringComparer.Ordinal);
        return new([.. Codings.Where(c => !all.ContainsKey(c.Id)), .. all.Values]);
    }

    private static CodingCatalogue Load()
    {
        IReadOnlyList<FileProblem> problems = CodingFile.Read(DataTable.Text("codings.csv"), out IReadOnlyList<Coding> codings);
        return problems.Count == 0 ? new(codings) : throw new InvalidOperationException($"The catalogue is not readable: {problems[0]}");
    }
}
