using System.CommandLine;
using System.Globalization;
using PostPipeline.Cli.Frame;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Studies.Farms;
using PostPipeline.Studies.Printing;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Farms;

/// <summary><c>size</c>: the smallest farm that is done in time.</summary>
internal static class SizeCommand
{
    private static readonly Option<double> Probability = new("--probability") { Description = "The probability asked for; no safety factor goes on top.", HelpName = "P", DefaultValueFactory = _ => 0.9 };
    private static readonly Option<string?> NodeClass = new("--node-class") { Description = "The node class to size; needed where there are several.", HelpName = "NAME" };
    private static readonly Option<int> Most = new("--most") { Description = "The most nodes to try.", HelpName = "N", DefaultValueFactory = _ => 1000 };

    private sealed record Row(int Nodes, double FinishP50Seconds, double FinishP90Seconds, Likelihood OnTime, double BoundSeconds);

    private sealed record Answer(
        int? Nodes, bool Decided, double NodesByDivision, double? UsefulNodes, string Limit, bool Anomaly, double Probability, double DueSeconds, long Seed, int Replications, IReadOnlyList<Row> Sizes, IReadOnlyList<string> Notes);

    public static Command Create() => new Command("size", "Find the smallest farm that is done by a date with a probability.")
    {
        FarmOptions.File, FarmOptions.Due, Probability, NodeClass, Most, FarmOptions.Seed, FarmOptions.Replications,
    }.Runs(RunAsync);

    private static async Task<int> RunAsync(Session session)
    {
        SimulateFarmRequest file = FarmFile.ReadFile<SimulateFarmRequest>(session.Line.GetValue(FarmOptions.File)!);
        double due = session.TimeOf(FarmOptions.Due)
            ?? (file.HasDueSeconds ? file.DueSeconds : throw new InputException(InputProblem.Of("--due", string.Empty, "is needed here or as due_seconds in the file")));
        SizeFarmRequest request = new()
        {
            Seed = session.SeedOf(file.Seed),
            Replications = session.ReplicationsOf(file.Replications),
            Farm = file.Farm,
            NodeClass = session.Line.GetValue(NodeClass) ?? string.Empty,
            DueSeconds = due,
            Probability = session.Line.GetValue(Probability),
            MostNodes = session.Line.GetValue(Most),
        };
        request.Jobs.AddRange(file.Jobs);
        FarmService.FarmServiceClient farm = (await session.ClientsAsync().ConfigureAwait(false)).Farm;
        SizeFarmResult result = await session.ProgressAsync("sizing the farm", progress => FarmOptions.LastAsync(
            farm.SizeFarm(request, cancellationToken: session.Cancellation), p => p.Progress, p => p.Result, progress, session.Cancellation)).ConfigureAwait(false);
        Answer answer = new(
            result.HasNodes ? result.Nodes : null, result.Decided, result.NodesByDivision, double.IsFinite(result.UsefulNodes) ? result.UsefulNodes : null, result.Limit, result.Anomaly,
            request.Probability, due, result.Seed, result.Replications,
            [.. result.Sizes.Select(s => new Row(s.Nodes, s.FinishP50Seconds, s.FinishP90Seconds, s.OnTime, s.BoundSeconds))],
            [.. result.Notes]);
        return session.Answer("postpipeline.size/1", answer, console => Print(console, answer), answer.Nodes is null ? ExitCode.No : ExitCode.Done);
    }

    private static void Print(IAnsiConsole console, Answer a)
    {
        Table sizes = new Table().Border(TableBorder.Simple).AddColumns("nodes", "P50", "P90", "in time (95 % interval)", "no earlier than", string.Empty);
        foreach (Row row in a.Sizes)
        {
            sizes.AddRow(
                row.Nodes.ToString("N0", CultureInfo.InvariantCulture), FarmOptions.Hours(row.FinishP50Seconds), FarmOptions.Hours(row.FinishP90Seconds), FarmOptions.Percent(row.OnTime),
                FarmOptions.Hours(row.BoundSeconds), row.Nodes == a.Nodes ? "smallest" : string.Empty);
        }

        console.Write(sizes);
        string asked = string.Create(CultureInfo.InvariantCulture, $"{100 * a.Probability:0.#} % by {FarmOptions.Hours(a.DueSeconds)}");
        console.WriteLine(a.Nodes is int nodes
            ? string.Create(CultureInfo.InvariantCulture, $"{nodes:N0} nodes are done in time with {asked}{(a.Decided ? string.Empty : "; the replications leave a neighbouring count possible, so run more to be sure")}.")
            : $"No count of nodes that was tried reaches {asked}.");
        console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"By plain division {Numbers.Three(a.NodesByDivision)} nodes. No safety factor is on top: spread, failures and slow nodes are in the simulation."));
        if (a.UsefulNodes is double useful)
        {
            console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"The limit of {a.Limit} is reached by {Numbers.Three(useful)} nodes: beyond {Math.Floor(useful):N0} whole nodes, one more adds {Numbers.Three(useful - Math.Floor(useful))} of a node, and the next nothing."));
        }

        if (a.Anomaly)
        {
            console.WriteLine("A larger farm ended later than a smaller one: an anomaly of list scheduling, or storage.");
        }

        FarmOptions.Print(console, a.Notes);
    }
}
