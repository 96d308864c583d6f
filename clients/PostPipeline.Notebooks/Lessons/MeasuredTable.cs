using System.Globalization;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Studies.Benchmarks;
using PostPipeline.Studies.Briefs;

namespace PostPipeline.Notebooks.Lessons;

/// <summary>Measured rows under a mapping: a file of one's own, or the invented rows where there is none.</summary>
internal sealed class MeasuredTable
{
    private const int MostRows = 1_000_000;

    private readonly RowFile? file;
    private readonly BenchmarkHeader header;

    private MeasuredTable(RowFile? file, BenchmarkHeader header) => (this.file, this.header, Mapping) = (file, header, ColumnMapping.Of(header));

    /// <summary>What the columns are for.</summary>
    public ColumnMapping Mapping { get; }

    /// <summary>What to call the rows in messages.</summary>
    public string Name => file?.Path ?? header.Name;

    private IEnumerable<IReadOnlyList<string>> Rows => file?.Rows().Select(r => (IReadOnlyList<string>)r.Cells) ?? InventedOwnRows.Rows().Select(r => (IReadOnlyList<string>)r);

    /// <summary>Reads the header of a file and holds the mapping against it.</summary>
    /// <param name="path">The file; the invented rows where empty.</param>
    /// <param name="mapping">What the columns are for.</param>
    /// <exception cref="BriefException">A column is not there, or there is no row.</exception>
    public static MeasuredTable Read(string path, ColumnMapping mapping)
    {
        if (path.Length == 0)
        {
            BenchmarkHeader invented = InventedOwnRows.Header();
            BenchmarkHeader asked = mapping.Header(invented.Name, [.. invented.Columns]);
            (asked.Name, asked.Invented) = (invented.Name, true);
            return new(null, asked);
        }

        RowFile file = RowFile.Open(path);
        BenchmarkHeader header = mapping.WithUsualFeatures(file.Columns).Header(path, file.Columns);
        header.Invented = InventedRows.CountIn(file) > 0;
        return file.Rows().Any() ? new(file, header) : throw new BriefException(path, "has no rows below its header");
    }

    /// <summary>Imports the rows, all or nothing.</summary>
    /// <param name="client">The service.</param>
    /// <param name="cancellation">Gives up.</param>
    /// <returns>The name of the set.</returns>
    public async Task<string> ImportAsync(BenchmarkService.BenchmarkServiceClient client, CancellationToken cancellation) =>
        (file is null
            ? await BenchmarkUpload.ImportAsync(client, header, Rows, cancellation).ConfigureAwait(false)
            : await BenchmarkUpload.ImportAsync(client, header, file, cancellation).ConfigureAwait(false)).SetId;

    /// <summary>A question as features.</summary>
    /// <param name="with"><c>name=value</c> for each feature, parted by commas.</param>
    /// <exception cref="BriefException">A part is no <c>name=value</c>, or the name is no feature.</exception>
    public Dictionary<string, string> Question(string with)
    {
        Dictionary<string, string> question = new(StringComparer.Ordinal);
        foreach (string pair in ColumnMapping.Names(with))
        {
            int equals = pair.IndexOf('=', StringComparison.Ordinal);
            string name = equals < 0 ? pair : pair[..equals].Trim();
            if (equals < 1 || !question.TryAdd(Known("with", name), pair[(equals + 1)..].Trim()))
            {
                throw Wrong("with", pair, $"allowed is name=value, each name once; names are {string.Join(", ", Mapping.Features)}");
            }
        }

        return question;
    }

    /// <summary>The values that some features have together in the rows, in order of the first of them, each of its values once.</summary>
    /// <param name="features">The features.</param>
    /// <param name="most">At most so many, spread evenly.</param>
    /// <exception cref="BriefException">A name is no feature.</exception>
    public IReadOnlyList<IReadOnlyList<string>> Measured(IReadOnlyList<string> features, int most)
    {
        int[] places = [.. features.Select(f => header.Columns.IndexOf(Known("along", f)))];
        bool number = Mapping.Numbers.Contains(features[0]);
        Dictionary<string, string[]> found = new(StringComparer.Ordinal);
        foreach (IReadOnlyList<string> row in Rows.Take(MostRows))
        {
            string[] values = [.. places.Select(p => row[p].Trim())];
            if (values.All(v => v.Length > 0))
            {
                found.TryAdd(values[0], values);
            }
        }

        string[][] sorted = number
            ? [.. found.Values.OrderBy(v => double.Parse(v[0], NumberStyles.Float, CultureInfo.InvariantCulture))]
            : [.. found.Values.OrderBy(v => v[0], StringComparer.Ordinal)];
        int count = Math.Min(most, sorted.Length);
        return count == 0
            ? throw Wrong("along", string.Join(", ", features), "no row has a value there")
            : [.. Enumerable.Range(0, count).Select(i => sorted[count == 1 ? 0 : (int)((long)i * (sorted.Length - 1) / (count - 1))])];
    }

    /// <summary>A name that must be a feature.</summary>
    /// <param name="role">What it was named for.</param>
    /// <param name="name">The name.</param>
    /// <exception cref="BriefException">It is none.</exception>
    public string Known(string role, string name) => Mapping.Features.Contains(name)
        ? name
        : throw Wrong(role, name, $"is no feature of these rows; allowed is one of {string.Join(", ", Mapping.Features)}");

    private BriefException Wrong(string role, string value, string problem) => new([new BriefProblem(Name, 0, 0, role, value, problem)]);
}
