using System.IO.Pipes;
using System.Text.Json.Nodes;
using PostPipeline.Notebooks.Documents;
using PostPipeline.Notebooks.Engines;
using PostPipeline.Notebooks.Parameters;

namespace PostPipeline.Notebooks.Runs;

/// <summary>
/// The process that runs the cells of one notebook. It gets its job as one line on standard input, tells of its work over a
/// pipe, and ends itself when standard input closes, so that nothing is left running when its parent is gone.
/// </summary>
public static class NotebookWorker
{
    /// <summary>The word by which our executable is asked to be a worker; not a command for people.</summary>
    public const string Word = "notebook-worker";

    /// <summary>Runs the job that stands on standard input.</summary>
    /// <param name="pipe">The handle of the pipe.</param>
    /// <param name="setup">What cells can use without asking.</param>
    /// <param name="prepare">Told where the services are, before the first cell.</param>
    /// <returns>The exit code: 0 where every cell ended without an error.</returns>
    public static async Task<int> RunAsync(string pipe, CellSetup setup, Action<ServicePlace> prepare)
    {
        using AnonymousPipeClientStream stream = new(PipeDirection.Out, pipe);
        using StreamWriter writer = new(stream) { AutoFlush = true };
        RunClock clock = new();
        Lock gate = new();
        void Say(RunMessage message)
        {
            lock (gate)
            {
                writer.WriteLine(message.ToLine());
            }
        }

        using StreamReader input = new(Console.OpenStandardInput());
        JsonObject job = (JsonObject)JsonNode.Parse(await input.ReadLineAsync().ConfigureAwait(false) ?? "{}")!;
        WatchParent(input);
        ServicePlace place = new([.. ((JsonArray)job["services"]!).Select(address => address!.GetValue<string>())], job["data"]?.GetValue<string>());
        prepare(place);
        try
        {
            NotebookFile notebook = NotebookFile.Parse(job["notebook"]!.GetValue<string>(), job["name"]!.GetValue<string>());
            ParameterSet parameters = new(((JsonObject)job["values"]!).ToDictionary(v => v.Key, v => v.Value!.GetValue<string>()));
            if (place.Addresses.Count == 0)
            {
                Suite.Begin(notebook.Ahead);
            }

            using InteractiveEngine engine = new(setup);
            NotebookSession session = new(engine, notebook, parameters);
            Say(new RunMessage.Took(clock.Lap("start")));
            bool fine = await session.RunAsync(
                cell => Say(new RunMessage.Started(cell.Index)),
                (cell, output) => Say(new RunMessage.Put(cell.Index, output)),
                (cell, ended) =>
                {
                    Say(new RunMessage.Ended(cell.Index, ended));
                    Say(new RunMessage.Took(clock.Lap($"cell {cell.Index + 1}")));
                    if (ReferenceEquals(cell, notebook.Parameters))
                    {
                        Say(RunMessage.OfInputs(parameters));
                    }

                    Say(RunMessage.OfMarks(parameters));
                },
                CancellationToken.None).ConfigureAwait(false);
            Say(new RunMessage.Done(null));
            return fine ? 0 : 1;
        }
        catch (Exception problem) when (problem is ParameterException or NotebookFormatException)
        {
            Say(new RunMessage.Done(problem.Message));
            return 2;
        }
    }

    private static void WatchParent(StreamReader input)
    {
        Thread watch = new(() =>
        {
            while (input.ReadLine() is not null)
            {
            }

            Environment.Exit(3);
        })
        {
            IsBackground = true,
            Name = "waits for the parent to go",
        };
        watch.Start();
    }
}
