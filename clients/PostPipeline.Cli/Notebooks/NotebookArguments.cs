using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Notebooks.Documents;

namespace PostPipeline.Cli.Notebooks;

/// <summary>What every verb on a notebook shares.</summary>
internal static class NotebookArguments
{
    public static Argument<string> File() => new("notebook") { Description = $"A notebook file (.ipynb), or one of those inside the program: {string.Join(", ", NotebookFile.NamesInside)}." };

    public static Option<string[]> Values() => new("--parameter", "-p")
    {
        Description = "A value for a parameter that the notebook declares, as name=value; may be given often.",
        DefaultValueFactory = _ => [],
        HelpName = "NAME=VALUE",
    };

    public static NotebookFile Read(Session session, Argument<string> argument)
    {
        string path = session.Line.GetValue(argument)!;
        try
        {
            return NotebookFile.NamesInside.Contains(path) ? NotebookFile.Inside(path) : NotebookFile.Load(path);
        }
        catch (NotebookFormatException problem)
        {
            throw new InputException(InputProblem.Of("notebook", path, problem.Message));
        }
    }

    public static IReadOnlyDictionary<string, string> Read(Session session, Option<string[]> option)
    {
        Dictionary<string, string> values = [];
        foreach (string pair in session.Line.GetValue(option)!)
        {
            int equals = pair.IndexOf('=', StringComparison.Ordinal);
            if (equals < 1 || !values.TryAdd(pair[..equals], pair[(equals + 1)..]))
            {
                throw new InputException(InputProblem.Of("--parameter", pair, "write name=value, each name once"));
            }
        }

        return values;
    }
}
