using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Cli.Notebooks;
using PostPipeline.Notebooks;
using PostPipeline.Notebooks.Documents;
using PostPipeline.Notebooks.Engines;
using PostPipeline.Notebooks.Live;
using PostPipeline.Notebooks.Parameters;

namespace PostPipeline.Cli.Commands;

/// <summary><c>present</c>: a notebook as a live page on loopback, its parameters as sliders.</summary>
internal static class PresentCommand
{
    private static readonly Argument<string> Notebook = NotebookArguments.File();

    private static readonly Option<string[]> Values = NotebookArguments.Values();

    private static readonly Option<int> Port = new("--port")
    {
        Description = "Port on loopback; 0 for a free one.",
        DefaultValueFactory = _ => 0,
        HelpName = "N",
    };

    public static Command Create() => new Command("present", "Serve a notebook as a live page on loopback, until Ctrl-C. Presenting a notebook runs the code in it.") { Notebook, Values, Port }.Runs(async session =>
    {
        int port = session.Line.GetValue(Port);
        if (port is < 0 or > ushort.MaxValue)
        {
            throw new InputException(InputProblem.Of("--port", $"{port}", $"allowed is 0 to {ushort.MaxValue}"));
        }

        NotebookFile file = NotebookArguments.Read(session, Notebook);
        NotebookSetup.Prepare(new(session.Services, session.DataFolder));
        if (session.Services.Count == 0)
        {
            Suite.Begin(file.Ahead);
        }

        session.Note($"Compiling and running {file.Name} …");
        LiveNotebook live;
        try
        {
            live = await LiveNotebook.OpenAsync(NotebookSetup.Cells, file, NotebookArguments.Read(session, Values), session.Cancellation).ConfigureAwait(false);
        }
        catch (ScriptChainException problem)
        {
            throw new InputException(InputProblem.Of("notebook", file.Name, problem.Message));
        }
        catch (ParameterException problem)
        {
            throw new InputException(InputProblem.Of("--parameter", string.Empty, problem.Message));
        }

        LiveServer server = await LiveServer.StartAsync(live, port, session.Cancellation).ConfigureAwait(false);
        await using (server.ConfigureAwait(false))
        {
            session.Line.InvocationConfiguration.Output.WriteLine(server.StartAddress);
            session.Note("Open this address in a browser on this machine; it opens one session. Ctrl-C ends it.");
            await server.WaitAsync(session.Cancellation).ConfigureAwait(false);
        }

        return ExitCode.Done;
    });
}
