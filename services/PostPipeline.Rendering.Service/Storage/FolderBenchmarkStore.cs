using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using PostPipeline.RenderTimes;

namespace PostPipeline.Rendering.Service.Storage;

/// <summary>
/// Sets and models as files. A set is a folder <c>sets/&lt;hash&gt;</c> with its description and its rows, written
/// under a temporary name, flushed to the disk and renamed: after a crash it is wholly there or wholly absent.
/// </summary>
public sealed class FolderBenchmarkStore : IBenchmarkStore
{
    /// <summary>The version of the folder's layout; a folder of a newer version is refused.</summary>
    public const int FormatVersion = 1;

    private const string TemporaryPrefix = "unfinished-";
    private readonly string sets;
    private readonly string models;
    private readonly FolderLock writer;
    private volatile RenderTimeModel? lastModel;

    /// <summary>Opens a folder, and makes it where there is none.</summary>
    /// <param name="folder">The data folder.</param>
    /// <param name="patience">How long to wait for another process that writes; 10 s where not given.</param>
    /// <exception cref="InvalidDataException">The folder has a newer format.</exception>
    public FolderBenchmarkStore(string folder, TimeSpan? patience = null)
    {
        sets = Path.Combine(folder, "sets");
        models = Path.Combine(folder, "models");
        Directory.CreateDirectory(sets);
        Directory.CreateDirectory(models);
        writer = new(folder, patience ?? TimeSpan.FromSeconds(10));
        CheckFormat(Path.Combine(folder, "format"));
    }

    /// <inheritdoc/>
    public IBenchmarkImport BeginImport(string name, TableSchema schema, bool invented)
    {
        IDisposable held = writer.Take(RemoveLeftovers);
        try
        {
            return new FolderImport(this, held, name, schema, invented);
        }
        catch
        {
            held.Dispose();
            throw;
        }
    }

    /// <inheritdoc/>
    public ImmutableArray<BenchmarkSetInfo> List() =>
        [.. Directory.EnumerateDirectories(sets)
            .Select(Path.GetFileName)
            .Where(IsHash)
            .Select(id => Find(id!))
            .OfType<BenchmarkSetInfo>()
            .OrderBy(s => s.Name, StringComparer.Ordinal)
            .ThenBy(s => s.Id, StringComparer.Ordinal)];

    /// <inheritdoc/>
    public BenchmarkSetInfo? Find(string id)
    {
        string path = Path.Combine(sets, id, "set.json");
        return IsHash(id) && File.Exists(path) ? JsonSerializer.Deserialize<BenchmarkSetInfo>(File.ReadAllBytes(path)) : null;
    }

    /// <inheritdoc/>
    public IEnumerable<ImmutableArray<string>> ReadRows(string id)
    {
        if (Find(id) is null)
        {
            throw new ArgumentException($"There is no set '{id}'.", nameof(id));
        }

        foreach (string line in File.ReadLines(Path.Combine(sets, id, "rows.jsonl")))
        {
            yield return [.. JsonSerializer.Deserialize<string[]>(line)!];
        }
    }

    /// <inheritdoc/>
    public bool Delete(string id)
    {
        using IDisposable held = writer.Take(RemoveLeftovers);
        if (Find(id) is null)
        {
            return false;
        }

        // Renamed first: a crash in the middle leaves a leftover, not half a set.
        string doomed = Path.Combine(sets, TemporaryPrefix + Guid.NewGuid().ToString("N", CultureInfo.InvariantCulture));
        Directory.Move(Path.Combine(sets, id), doomed);
        Directory.Delete(doomed, recursive: true);
        return true;
    }

    /// <inheritdoc/>
    public void SaveModel(RenderTimeModel model)
    {
        using IDisposable held = writer.Take(RemoveLeftovers);
        string path = Path.Combine(models, $"{model.Record.Id}.json");
        string temporary = Path.Combine(models, TemporaryPrefix + model.Record.Id);
        using (FileStream stream = new(temporary, FileMode.Create, FileAccess.Write))
        {
            RenderTimeModelCodec.Write(model, stream);
            stream.Flush(flushToDisk: true);
        }

        File.Move(temporary, path, overwrite: true);
    }

    /// <inheritdoc/>
    public RenderTimeModel? FindModel(string id)
    {
        string path = Path.Combine(models, $"{id}.json");
        if (!IsHash(id) || !File.Exists(path))
        {
            return null;
        }

        // A model never changes under its name, so the last one read can be kept.
        if (lastModel is RenderTimeModel last && last.Record.Id == id)
        {
            return last;
        }

        using FileStream stream = File.OpenRead(path);
        RenderTimeModel model = RenderTimeModelCodec.Read(stream);
        lastModel = model;
        return model;
    }

    /// <inheritdoc/>
    public ImmutableArray<ModelRecord> ListModels() =>
        [.. Directory.EnumerateFiles(models, "*.json")
            .Select(Path.GetFileNameWithoutExtension)
            .Where(IsHash)
            .Order(StringComparer.Ordinal)
            .Select(id => FindModel(id!)!.Record)];

    private static bool IsHash(string? id) => id is { Length: 64 } && id.All(c => char.IsAsciiDigit(c) || c is >= 'a' and <= 'f');

    private void CheckFormat(string path)
    {
        if (!File.Exists(path))
        {
            using IDisposable held = writer.Take(RemoveLeftovers);
            if (!File.Exists(path))
            {
                string temporary = path + ".new";
                File.WriteAllText(temporary, FormatVersion.ToString(CultureInfo.InvariantCulture));
                File.Move(temporary, path, overwrite: true);
            }

            return;
        }

        string text = File.ReadAllText(path).Trim();
        if (!int.TryParse(text, CultureInfo.InvariantCulture, out int version) || version is < 1 or > FormatVersion)
        {
            throw new InvalidDataException(
                $"The data folder '{Path.GetDirectoryName(path)}' has format {text}; this version reads formats 1 to {FormatVersion}.");
        }
    }

    // Called with the lock held and no other import of this process under way.
    private void RemoveLeftovers()
    {
        foreach (string leftover in Directory.EnumerateDirectories(sets, TemporaryPrefix + "*"))
        {
            Directory.Delete(leftover, recursive: true);
        }

        foreach (string leftover in Directory.EnumerateFiles(models, TemporaryPrefix + "*"))
        {
            File.Delete(leftover);
        }
    }

    private sealed class FolderImport : IBenchmarkImport
    {
        private readonly FolderBenchmarkStore store;
        private readonly IDisposable held;
        private readonly string name;
        private readonly TableSchema schema;
        private readonly bool invented;
        private readonly string folder;
        private readonly BenchmarkTableBuilder builder;
        private readonly FileStream rows;
        private bool closed;

        public FolderImport(FolderBenchmarkStore store, IDisposable held, string name, TableSchema schema, bool invented)
        {
            (this.store, this.held, this.name, this.schema, this.invented) = (store, held, name, schema, invented);
            builder = new(schema, invented);
            folder = Path.Combine(store.sets, TemporaryPrefix + Guid.NewGuid().ToString("N", CultureInfo.InvariantCulture));
            Directory.CreateDirectory(folder);
            rows = new(Path.Combine(folder, "rows.jsonl"), FileMode.CreateNew, FileAccess.Write, FileShare.None, 1 << 16);
        }

        public IReadOnlyList<RowViolation> Violations => builder.Violations;

        public bool Add(IReadOnlyList<string> cells)
        {
            bool good = builder.Add(cells);
            if (good && builder.Violations.Count == 0)
            {
                rows.Write(JsonSerializer.SerializeToUtf8Bytes(cells));
                rows.WriteByte((byte)'\n');
            }

            return good;
        }

        public BenchmarkSetInfo Commit()
        {
            BenchmarkTable table = builder.Build();
            rows.Flush(flushToDisk: true);
            rows.Dispose();
            BenchmarkSetInfo info = new(table.ContentHash, name, invented, schema, table.Count, table.Families.Length);
            using (FileStream stream = new(Path.Combine(folder, "set.json"), FileMode.CreateNew, FileAccess.Write))
            {
                JsonSerializer.Serialize(stream, info);
                stream.Flush(flushToDisk: true);
            }

            // The same content is the same set: the one that is there stays.
            if (store.Find(info.Id) is BenchmarkSetInfo present)
            {
                return present;
            }

            Directory.Move(folder, Path.Combine(store.sets, info.Id));
            return info;
        }

        public void Dispose()
        {
            if (closed)
            {
                return;
            }

            closed = true;
            rows.Dispose();
            if (Directory.Exists(folder))
            {
                Directory.Delete(folder, recursive: true);
            }

            held.Dispose();
        }
    }
}
