using System.Text.Json.Nodes;
using PostPipeline.Notebooks.Documents;
using PostPipeline.Notebooks.Parameters;

namespace PostPipeline.Notebooks.Runs;

/// <summary>What the process that runs the cells says to the one that watches it, a line of JSON each.</summary>
internal abstract record RunMessage
{
    private RunMessage()
    {
    }

    public sealed record Started(int Cell) : RunMessage;

    public sealed record Put(int Cell, CellOutput Output) : RunMessage;

    public sealed record Ended(int Cell, bool Fine) : RunMessage;

    public sealed record Inputs(IReadOnlyList<(string Name, string Value)> Values) : RunMessage;

    public sealed record Marks(IReadOnlyList<(string Name, string Value)> Values) : RunMessage;

    public sealed record Took(PartTime Time) : RunMessage;

    public sealed record Done(string? Problem) : RunMessage;

    public static RunMessage OfInputs(ParameterSet parameters) => new Inputs([.. parameters.Declared.Select(d => (d.Label == d.Name ? d.Name : $"{d.Label} ({d.Name})", d.ValueText))]);

    public static RunMessage OfMarks(ParameterSet parameters) => new Marks(RunMarks.Of(parameters));

    public string ToLine() => (this switch
    {
        Started started => new JsonObject { ["say"] = "started", ["cell"] = started.Cell },
        Put put => new JsonObject { ["say"] = "put", ["cell"] = put.Cell, ["output"] = OutputJson.ToNotebook(put.Output, 0), ["line"] = (put.Output as CellOutput.Error)?.Line },
        Ended ended => new JsonObject { ["say"] = "ended", ["cell"] = ended.Cell, ["fine"] = ended.Fine },
        Inputs inputs => new JsonObject { ["say"] = "inputs", ["values"] = new JsonArray([.. inputs.Values.Select(v => new JsonArray(v.Name, v.Value))]) },
        Marks marks => new JsonObject { ["say"] = "marks", ["values"] = new JsonArray([.. marks.Values.Select(v => new JsonArray(v.Name, v.Value))]) },
        Took took => new JsonObject { ["say"] = "took", ["part"] = took.Time.Part, ["seconds"] = took.Time.Seconds, ["compiling"] = took.Time.CompilingSeconds },
        Done done => new JsonObject { ["say"] = "done", ["problem"] = done.Problem },
        _ => throw new InvalidOperationException("unknown message"),
    }).ToJsonString();

    public static RunMessage OfLine(string line)
    {
        JsonObject json = (JsonObject)JsonNode.Parse(line)!;
        return json["say"]!.GetValue<string>() switch
        {
            "started" => new Started(json["cell"]!.GetValue<int>()),
            "put" => new Put(json["cell"]!.GetValue<int>(), OutputJson.FromNotebook((JsonObject)json["output"]!, json["line"]?.GetValue<int>())),
            "ended" => new Ended(json["cell"]!.GetValue<int>(), json["fine"]!.GetValue<bool>()),
            "inputs" => new Inputs([.. ((JsonArray)json["values"]!).Select(v => (v![0]!.GetValue<string>(), v[1]!.GetValue<string>()))]),
            "marks" => new Marks([.. ((JsonArray)json["values"]!).Select(v => (v![0]!.GetValue<string>(), v[1]!.GetValue<string>()))]),
            "took" => new Took(new(json["part"]!.GetValue<string>(), json["seconds"]!.GetValue<double>(), json["compiling"]!.GetValue<double>())),
            _ => new Done(json["problem"]?.GetValue<string>()),
        };
    }
}
