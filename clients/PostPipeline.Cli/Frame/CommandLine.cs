using System.CommandLine;
using System.CommandLine.Parsing;
using PostPipeline.Cli.Commands;

namespace PostPipeline.Cli.Frame;

/// <summary>The command line: verbs, options that all verbs share, errors and exit codes.</summary>
internal static class CommandLine
{
    /// <summary>Runs the command line of a process.</summary>
    /// <param name="arguments">The process's arguments.</param>
    public static Task<int> RunAsync(IReadOnlyList<string> arguments) => RunAsync(arguments, Console.Out, Console.Error, CancellationToken.None);

    /// <summary>Runs a command line.</summary>
    /// <param name="arguments">The arguments.</param>
    /// <param name="output">Takes the answer.</param>
    /// <param name="error">Takes errors, notes and progress.</param>
    /// <param name="cancellationToken">Gives up, as Ctrl-C does.</param>
    /// <returns>One of <see cref="ExitCode"/>.</returns>
    public static async Task<int> RunAsync(IReadOnlyList<string> arguments, TextWriter output, TextWriter error, CancellationToken cancellationToken)
    {
        ParseResult line = Root().Parse(arguments);
        if (line.Errors.Count > 0)
        {
            foreach (ParseError problem in line.Errors)
            {
                await error.WriteLineAsync(Plain(problem.Message)).ConfigureAwait(false);
            }

            await error.WriteLineAsync($"How to call it: {CommandPath(line)} --help").ConfigureAwait(false);
            return ExitCode.BadInput;
        }

        InvocationConfiguration invocation = new()
        {
            Output = output,
            Error = error,
            EnableDefaultExceptionHandler = false,
            ProcessTerminationTimeout = TimeSpan.FromSeconds(5),
        };
        return await line.InvokeAsync(invocation, cancellationToken).ConfigureAwait(false);
    }

    /// <summary>Lets a verb run with a session around it: clients, output, errors, cancellation.</summary>
    /// <param name="command">The verb.</param>
    /// <param name="run">What it does; answers an exit code.</param>
    public static Command Runs(this Command command, Func<Session, Task<int>> run)
    {
        command.SetAction((line, cancellationToken) => Session.RunAsync(line, run, cancellationToken));
        return command;
    }

    private static RootCommand Root()
    {
        RootCommand root = new("Which way to record and post-produce fits a production, and why.");
        foreach (Option option in new Option[] { GlobalOptions.Json, GlobalOptions.Services, GlobalOptions.Data, GlobalOptions.Quiet })
        {
            root.Options.Add(option);
        }

        foreach (Command verb in Verbs.All())
        {
            root.Subcommands.Add(verb);
        }

        return root;
    }

    // The parser speaks of types of this language; people are told what to write.
    private static string Plain(string message) => message
        .Replace("as expected type 'System.Int32'", "as a whole number", StringComparison.Ordinal)
        .Replace("as expected type 'System.Int64'", "as a whole number", StringComparison.Ordinal)
        .Replace("as expected type 'System.Double'", "as a number", StringComparison.Ordinal);

    private static string CommandPath(ParseResult line)
    {
        List<string> names = [];
        for (SymbolResult? result = line.CommandResult; result is CommandResult command; result = result.Parent)
        {
            names.Insert(0, command.Command is RootCommand ? "postpipeline" : command.Command.Name);
        }

        return string.Join(' ', names);
    }
}
