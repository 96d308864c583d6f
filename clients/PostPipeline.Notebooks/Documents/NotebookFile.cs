using System.Text.Json;
using System.Text.Json.Nodes;

namespace PostPipeline.Notebooks.Documents;

/// <summary>A Jupyter notebook (nbformat 4): read whole, run, and written back with its outputs. What is not understood is kept.</summary>
public sealed class NotebookFile
{
    /// <summary>The largest notebook that is read, in bytes.</summary>
    public const long MaximumBytes = 64_000_000;

    /// <summary>The most cells that are read.</summary>
    public const int MaximumCells = 1_000;

    private static readonly JsonSerializerOptions Indented = new() { WriteIndented = true, Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping };
    private readonly JsonObject root;

    private NotebookFile(string name, JsonObject root, IReadOnlyList<NotebookCell> cells)
    {
        Name = name;
        this.root = root;
        Cells = cells;
    }

    /// <summary>The file name without folder and extension.</summary>
    public string Name { get; }

    /// <summary>The notebook as JSON, as it was read.</summary>
    public string Json => root.ToJsonString();

    /// <summary>The cells.</summary>
    public IReadOnlyList<NotebookCell> Cells { get; }

    /// <summary>The first heading, or the name of the file.</summary>
    public string Title => Cells.Where(c => c.Kind == "markdown").SelectMany(c => c.Source.Split('\n'))
        .FirstOrDefault(line => line.StartsWith("# ", StringComparison.Ordinal))?[2..].Trim() ?? Name;

    /// <summary>The cell that declares parameters, where there is one.</summary>
    public NotebookCell? Parameters => Cells.FirstOrDefault(c => c.IsCode && c.Has(NotebookCell.ParametersTag));

    /// <summary>What its cells ask to have made ready ahead.</summary>
    public IReadOnlyList<string> Ahead => [.. Cells.SelectMany(c => c.Ahead).Distinct()];

    /// <summary>Reads a notebook.</summary>
    /// <param name="path">An .ipynb file of at most <see cref="MaximumBytes"/>.</param>
    /// <exception cref="NotebookFormatException">It is not a notebook, or too large.</exception>
    public static NotebookFile Load(string path)
    {
        if (Directory.Exists(path))
        {
            throw new NotebookFormatException($"{path} is a folder; a notebook (.ipynb) is asked for");
        }

        FileInfo file = new(path);
        if (!file.Exists)
        {
            throw new NotebookFormatException($"{path} is not there");
        }

        if (file.Length > MaximumBytes)
        {
            throw new NotebookFormatException($"{path} has {file.Length} bytes; allowed is up to {MaximumBytes}");
        }

        return Parse(File.ReadAllText(path), Path.GetFileNameWithoutExtension(path));
    }

    /// <summary>A notebook that travels inside the program.</summary>
    /// <param name="name">Its name without extension, for example "compare".</param>
    /// <exception cref="NotebookFormatException">There is none of that name.</exception>
    public static NotebookFile Inside(string name)
    {
        using Stream stream = typeof(NotebookFile).Assembly.GetManifestResourceStream($"notebooks/{name}.ipynb")
            ?? throw new NotebookFormatException($"no notebook '{name}' travels inside the program; there are {string.Join(", ", NamesInside)}");
        using StreamReader reader = new(stream);
        return Parse(reader.ReadToEnd(), name);
    }

    /// <summary>The names of the notebooks that travel inside the program.</summary>
    public static IReadOnlyList<string> NamesInside { get; } =
    [
        .. typeof(NotebookFile).Assembly.GetManifestResourceNames().Where(n => n.StartsWith("notebooks/", StringComparison.Ordinal))
            .Select(n => Path.GetFileNameWithoutExtension(n)).Order(StringComparer.Ordinal),
    ];

    /// <summary>Reads a notebook from its JSON.</summary>
    /// <param name="json">The JSON.</param>
    /// <param name="name">What to call it in messages and titles.</param>
    /// <exception cref="NotebookFormatException">It is not a notebook.</exception>
    public static NotebookFile Parse(string json, string name)
    {
        try
        {
            if (JsonNode.Parse(json) is not JsonObject root || root["cells"] is not JsonArray cells)
            {
                throw new NotebookFormatException($"{name} has no list of cells; a Jupyter notebook of format 4 is asked for");
            }

            if ((int?)root["nbformat"] is not 4)
            {
                throw new NotebookFormatException($"{name} has nbformat {root["nbformat"]?.ToJsonString() ?? "missing"}; allowed is 4");
            }

            if (cells.Count > MaximumCells)
            {
                throw new NotebookFormatException($"{name} has {cells.Count} cells; allowed is up to {MaximumCells}");
            }

            return new(name, root, [.. cells.Select((cell, index) => Cell(cell, index, name))]);
        }
        catch (JsonException problem)
        {
            throw new NotebookFormatException($"{name}, line {problem.LineNumber + 1}: not JSON ({problem.Message.Split('.')[0]})");
        }
        catch (Exception problem) when (problem is InvalidOperationException or FormatException)
        {
            throw new NotebookFormatException($"{name}: a part of the notebook has another type than the format allows ({problem.Message})");
        }
    }

    /// <summary>The notebook with these outputs in place of the old ones.</summary>
    /// <param name="executed">The cells that ran; a code cell that is missing here has no outputs.</param>
    /// <param name="record">What the run was: parameters, versions; kept in the notebook's metadata.</param>
    public string ToJson(IReadOnlyList<ExecutedCell> executed, RunRecord record)
    {
        JsonObject copy = (JsonObject)root.DeepClone();
        JsonArray cells = (JsonArray)copy["cells"]!;
        Dictionary<int, ExecutedCell> byIndex = executed.ToDictionary(cell => cell.Cell.Index);
        foreach (NotebookCell cell in Cells.Where(cell => cell.IsCode))
        {
            JsonObject node = (JsonObject)cells[cell.Index]!;
            bool ran = byIndex.TryGetValue(cell.Index, out ExecutedCell? run);
            node["execution_count"] = ran ? JsonValue.Create(run!.Count) : null;
            node["outputs"] = new JsonArray([.. (ran ? run!.Outputs : []).Select(output => OutputJson.ToNotebook(output, run!.Count, forViewer: true))]);
        }

        JsonObject metadata = copy["metadata"] as JsonObject ?? [];
        metadata["postpipeline"] = record.ToJson();
        if (copy["metadata"] is null)
        {
            copy["metadata"] = metadata;
        }

        return copy.ToJsonString(Indented);
    }

    private static NotebookCell Cell(JsonNode? node, int index, string name)
    {
        if (node is not JsonObject cell || cell["cell_type"]?.GetValue<string>() is not ("code" or "markdown" or "raw"))
        {
            throw new NotebookFormatException($"{name}, cells[{index}]: cell_type is missing or unknown; allowed are code, markdown, raw");
        }

        string source = cell["source"] switch
        {
            JsonArray lines => string.Concat(lines.Select(line => line?.GetValue<string>())),
            JsonValue text => text.GetValue<string>(),
            _ => string.Empty,
        };
        return new(index, cell["cell_type"]!.GetValue<string>(), source.ReplaceLineEndings("\n"), cell["metadata"] as JsonObject ?? []);
    }
}
