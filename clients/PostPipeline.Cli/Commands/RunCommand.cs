using System.CommandLine;
using System.Globalization;
using PostPipeline.Cli.Frame;
using PostPipeline.Cli.Notebooks;
using PostPipeline.Notebooks.Documents;
using PostPipeline.Notebooks.Runs;
using Spectre.Console;

namespace PostPipeline.Cli.Commands;

/// <summary><c>run</c>: a notebook to a report in one HTML file, or to an executed notebook.</summary>
internal static class RunCommand
{
    private static readonly Argument<string> Notebook = NotebookArguments.File();

    private static readonly Option<string[]> Values = NotebookArguments.Values();

    private static readonly Option<string[]> To = new("--to")
    {
        Description = "Where the result goes: a file ending in .html (a report without need of a network) or .ipynb (the executed notebook). May be given twice.",
        DefaultValueFactory = _ => ["report.html"],
        HelpName = "FILE",
    };

    private static readonly Option<double> Timeout = new("--timeout")
    {
        Description = "Seconds that one cell may take.",
        DefaultValueFactory = _ => 600,
        HelpName = "SECONDS",
    };

    private static readonly Option<bool> Times = new("--times") { Description = "Say on stderr how long the start and each cell took." };

    private sealed record RunAnswer(string Notebook, int CellsRun, int Cells, string? Problem, IReadOnlyDictionary<string, string> Inputs);

    public static Command Create() => new Command("run", "Run a notebook and write a report. Running a notebook runs the code in it.") { Notebook, Values, To, Timeout, Times }.Runs(async session =>
    {
        string[] targets = session.Line.GetValue(To)!;
        string? odd = targets.FirstOrDefault(target => Path.GetExtension(target).ToLowerInvariant() is not (".html" or ".htm" or ".ipynb"));
        if (odd is not null)
        {
            throw new InputException(InputProblem.Of("--to", odd, "allowed are files ending in .html or .ipynb"));
        }

        double seconds = session.Line.GetValue(Timeout);
        if (seconds is not (>= 1 and <= 86_400))
        {
            throw new InputException(InputProblem.Of("--timeout", $"{seconds}", "allowed is 1 to 86400 seconds"));
        }

        NotebookFile notebook = NotebookArguments.Read(session, Notebook);
        RunResult run = await session.ProgressAsync("running cells", progress => NotebookRunner.Beside(new(session.Services, session.DataFolder)).RunAsync(
            notebook,
            new(NotebookArguments.Read(session, Values), TimeSpan.FromSeconds(seconds), (cell, total) => progress.Report((cell - 1.0) / total)),
            session.Cancellation)).ConfigureAwait(false);
        foreach (string target in targets)
        {
            run.WriteTo(target);
        }

        if (session.Line.GetValue(Times))
        {
            foreach (PartTime time in run.Times)
            {
                session.Note(string.Create(CultureInfo.InvariantCulture, $"{time.Part}: {time.Seconds:0.00} s, of that {time.CompilingSeconds:0.00} s of code made ready"));
            }
        }

        RunAnswer answer = new(notebook.Name, run.Cells.Count, notebook.Cells.Count(cell => cell.IsCode), run.Record.Problem, run.Record.Inputs.ToDictionary(i => i.Name, i => i.Value));
        if (run.Record.Problem is not null)
        {
            session.Note(run.Record.Problem);
        }

        return session.Answer(
            "postpipeline.run/1",
            answer,
            console => console.WriteLine($"{(run.IsComplete ? "Ran" : "Ran in part")}: {answer.CellsRun} of {answer.Cells} cells. Written: {string.Join(", ", targets)}"),
            run.IsComplete ? ExitCode.Done : session.Cancellation.IsCancellationRequested ? ExitCode.GivenUp : ExitCode.No);
    });
}
