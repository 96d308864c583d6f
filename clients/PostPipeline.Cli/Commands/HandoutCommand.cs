using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Cli.Notebooks;
using PostPipeline.Notebooks.Documents;
using PostPipeline.Notebooks.Engines;
using PostPipeline.Notebooks.Handouts;
using PostPipeline.Notebooks.Live;
using PostPipeline.Notebooks.Parameters;

namespace PostPipeline.Cli.Commands;

/// <summary><c>handout</c>: a notebook as one interactive file without need of a network, with exercises and their key.</summary>
internal static class HandoutCommand
{
    private static readonly Argument<string> Notebook = NotebookArguments.File();
    private static readonly Option<string[]> Values = NotebookArguments.Values();

    private static readonly Option<string[]> Vary = new("--vary")
    {
        Description = "Parameters that the handout can move; without it the first two numbers.",
        AllowMultipleArgumentsPerToken = true,
        DefaultValueFactory = _ => [],
        HelpName = "NAME",
    };

    private static readonly Option<int> Steps = new("--steps")
    {
        Description = "Values of each number that varies.",
        DefaultValueFactory = _ => 9,
        HelpName = "N",
    };

    private static readonly Option<long> Seed = new("--seed") { Description = "Seed of the exercises.", DefaultValueFactory = _ => 1, HelpName = "N" };

    private static readonly Option<string> Out = new("--out")
    {
        Description = "Folder for handout.html, exercises.html and key.html; made where it is not there.",
        DefaultValueFactory = _ => "handout",
        HelpName = "DIR",
    };

    private sealed record HandoutAnswer(string Notebook, IReadOnlyList<string> Varies, int States, long Seed);

    public static Command Create() => new Command("handout", "A notebook as one interactive file for everyone's phone, with an exercise sheet and its key. It runs the code in the notebook.") { Notebook, Values, Vary, Steps, Seed, Out }.Runs(async session =>
    {
        int steps = session.Line.GetValue(Steps);
        if (steps is < 2 or > 100)
        {
            throw new InputException(InputProblem.Of("--steps", $"{steps}", "allowed is 2 to 100"));
        }

        OutputFolder folder = OutputFolder.Open(session.Line.GetValue(Out)!);
        NotebookFile file = NotebookArguments.Read(session, Notebook);
        NotebookSetup.Prepare(new(session.Services, session.DataFolder));
        try
        {
            using LiveNotebook live = await LiveNotebook.OpenAsync(NotebookSetup.Cells, file, NotebookArguments.Read(session, Values), session.Cancellation).ConfigureAwait(false);
            string[] vary = session.Line.GetValue(Vary)! is { Length: > 0 } named ? named : [.. live.Parameters.Where(p => p.Kind == ParameterKind.Number).Take(2).Select(p => p.Name)];
            HandoutGrid grid = HandoutGrid.Over(live.Parameters, vary, steps);
            Handout handout = await session.ProgressAsync("computing states", progress => Handout.ComputeAsync(live, grid, progress, session.Cancellation)).ConfigureAwait(false);
            long seed = session.Line.GetValue(Seed);
            folder.Write("handout.html", handout.ToHtml());
            folder.Write("exercises.html", handout.Exercises(seed, 5, withKey: false));
            folder.Write("key.html", handout.Exercises(seed, 5, withKey: true));
            return session.Answer("postpipeline.handout/1", new HandoutAnswer(file.Name, vary, grid.Count, seed), console =>
                console.Profile.Out.Writer.WriteLine($"{grid.Count} states of {string.Join(", ", vary)} in {folder.Path}: handout.html, exercises.html, key.html"));
        }
        catch (ScriptChainException problem)
        {
            throw new InputException(InputProblem.Of("notebook", file.Name, problem.Message));
        }
        catch (ParameterException problem)
        {
            throw new InputException(InputProblem.Of("--vary", string.Empty, problem.Message));
        }
    });
}
