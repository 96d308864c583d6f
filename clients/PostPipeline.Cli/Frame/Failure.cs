using System.CommandLine;
using System.Text.Json.Serialization;
using PostPipeline.Client;
using PostPipeline.Studies.Briefs;

namespace PostPipeline.Cli.Frame;

/// <summary>What went wrong, as it is shown.</summary>
/// <param name="ExitCode">One of <see cref="Frame.ExitCode"/>.</param>
/// <param name="Kind">One word for programs.</param>
/// <param name="Problems">Each problem, with its place.</param>
internal sealed record Failure([property: JsonIgnore] int ExitCode, string Kind, IReadOnlyList<InputProblem> Problems)
{
    /// <summary>One line a problem.</summary>
    [JsonIgnore]
    public IEnumerable<string> Lines => Problems.Select(problem => problem.ToString());

    /// <summary>The same with options where a service named the fields that they filled.</summary>
    /// <param name="line">The command line.</param>
    public Failure InTermsOf(ParseResult line) => this with { Problems = [.. Problems.Select(problem => problem.InTermsOf(line))] };

    /// <summary>How a failure is shown; null where it is a fault of this program, which must not be hidden.</summary>
    public static Failure? From(Exception exception, CancellationToken cancellationToken) => exception switch
    {
        InputException input => new(Frame.ExitCode.BadInput, "bad_input", input.Problems),
        BriefException brief => new(
            Frame.ExitCode.BadInput, "bad_input", [.. brief.Problems.Select(p => new InputProblem(p.File, p.Line, p.Column, p.Key, p.Value, p.Message))]),
        OperationCanceledException when cancellationToken.IsCancellationRequested => One(Frame.ExitCode.GivenUp, "given_up", "given up"),
        ServiceCallException { Violations.Count: > 0 } refused => new(
            Frame.ExitCode.BadInput, "bad_input", [.. refused.Violations.Select(v => new InputProblem(string.Empty, 0, 0, v.Field, string.Empty, v.Problem))]),
        ServiceCallException failed => One(Frame.ExitCode.ServiceFailed, "service_failed", failed.Message),
        ServiceAddressException address => One(Frame.ExitCode.ServiceFailed, "service_failed", address.Message),
        IOException or UnauthorizedAccessException => One(Frame.ExitCode.FileFailed, "file_failed", exception.Message),
        _ => null,
    };

    private static Failure One(int exitCode, string kind, string problem) => new(exitCode, kind, [new(string.Empty, 0, 0, string.Empty, string.Empty, problem)]);
}
