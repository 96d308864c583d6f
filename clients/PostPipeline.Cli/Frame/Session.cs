using System.CommandLine;
using System.Diagnostics;
using System.Globalization;
using PostPipeline.Client;
using PostPipeline.Contracts;
using PostPipeline.Embedded;
using Spectre.Console;

namespace PostPipeline.Cli.Frame;

/// <summary>One run of a verb: its arguments, its services, its way to answer. stdout is the answer, stderr the log.</summary>
internal sealed class Session : IAsyncDisposable
{
    private readonly TextWriter output;
    private readonly TextWriter error;
    private readonly Stopwatch watch = Stopwatch.StartNew();
    private readonly DateTimeOffset started = TimeProvider.System.GetUtcNow();
    private EmbeddedSuite? embedded;
    private SuiteConnection? connection;

    private Session(ParseResult line, CancellationToken cancellationToken)
    {
        Line = line;
        Cancellation = cancellationToken;
        output = line.InvocationConfiguration.Output;
        error = line.InvocationConfiguration.Error;
    }

    /// <summary>The parsed command line.</summary>
    public ParseResult Line { get; }

    /// <summary>Cancelled by Ctrl-C.</summary>
    public CancellationToken Cancellation { get; }

    /// <summary>Whether the answer is for machines.</summary>
    public bool Json => Line.GetValue(GlobalOptions.Json);

    /// <summary>The data folder as given; null for the usual places.</summary>
    public string? DataFolder => Line.GetValue(GlobalOptions.Data);

    /// <summary>Addresses of services in other processes; empty where they run inside this one.</summary>
    public IReadOnlyList<string> Services => Line.GetValue(GlobalOptions.Services) ?? [];

    private bool Quiet => Line.GetValue(GlobalOptions.Quiet);

    /// <summary>Typed clients: of the services at <c>--services</c>, else of services inside this process.</summary>
    public async Task<SuiteClients> ClientsAsync()
    {
        if (Services.Count == 0)
        {
            return (embedded ??= EmbeddedSuite.InFolder(DataFolder)).Clients;
        }

        connection ??= await SuiteConnection.OpenAsync(Services, cancellationToken: Cancellation).ConfigureAwait(false);
        return connection.Clients;
    }

    /// <summary>Prints the answer: as tables for people, or as one JSON object.</summary>
    /// <param name="schema">The name of the result's shape with its version, such as <c>postpipeline.labels/1</c>.</param>
    /// <param name="result">The answer. Holds no times of this run, no paths and no names of machines.</param>
    /// <param name="print">Prints for people.</param>
    /// <param name="exitCode">The exit code.</param>
    /// <returns>The exit code.</returns>
    public int Answer<T>(string schema, T result, Action<IAnsiConsole> print, int exitCode = ExitCode.Done)
    {
        if (Json)
        {
            output.WriteLine(Envelope.Write(schema, result, Run()));
        }
        else
        {
            print(Consoles.For(output));
        }

        return exitCode;
    }

    /// <summary>A note for the log, on stderr.</summary>
    /// <param name="text">One line.</param>
    public void Note(string text)
    {
        if (!Quiet)
        {
            error.WriteLine(text);
        }
    }

    /// <summary>Runs something that may take long and shows on stderr how far it is, from the first second on.</summary>
    /// <param name="name">What is being done, for example <c>simulating the farm</c>.</param>
    /// <param name="work">The work; reports the part done, 0 to 1.</param>
    public async Task<T> ProgressAsync<T>(string name, Func<IProgress<double>, Task<T>> work)
    {
        using ProgressLine progress = new(Quiet ? TextWriter.Null : error, name, TimeProvider.System);
        return await work(progress).ConfigureAwait(false);
    }

    /// <summary>Runs a verb; turns what goes wrong into a message and an exit code.</summary>
    internal static async Task<int> RunAsync(ParseResult line, Func<Session, Task<int>> run, CancellationToken cancellationToken)
    {
        Session session = new(line, cancellationToken);
        await using (session.ConfigureAwait(false))
        {
            try
            {
                return await run(session).ConfigureAwait(false);
            }
            catch (Exception failure) when (Failure.From(failure, cancellationToken) is { } shown)
            {
                return session.Show(shown);
            }
            catch (Exception fault)
            {
                // The last stop before the process ends: the whole story, for a report to whoever mends this program.
                session.error.WriteLine("This is a fault of postpipeline, not of what was given to it:");
                session.error.WriteLine(fault);
                return ExitCode.Fault;
            }
        }
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        if (embedded is not null)
        {
            await embedded.DisposeAsync().ConfigureAwait(false);
        }

        if (connection is not null)
        {
            await connection.DisposeAsync().ConfigureAwait(false);
        }
    }

    private int Show(Failure failure)
    {
        failure = failure.InTermsOf(Line);
        foreach (string text in failure.Lines)
        {
            error.WriteLine(text);
        }

        if (Json)
        {
            output.WriteLine(Envelope.Write("postpipeline.error/1", failure, Run()));
        }

        return failure.ExitCode;
    }

    private RunFacts Run() => new(
        Wire.EngineVersion,
        Services.Count == 0 ? "embedded" : string.Join(' ', Services),
        Environment.MachineName,
        started.ToString("yyyy-MM-ddTHH:mm:ssZ", CultureInfo.InvariantCulture),
        Math.Round(watch.Elapsed.TotalSeconds, 3));
}
