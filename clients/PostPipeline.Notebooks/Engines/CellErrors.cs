using System.Globalization;
using System.Text.RegularExpressions;
using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.Scripting;
using PostPipeline.Notebooks.Documents;

namespace PostPipeline.Notebooks.Engines;

/// <summary>Says where in a cell an error lies, and leaves out of the trace what belongs to the engine.</summary>
internal static partial class CellErrors
{
    /// <param name="problem">The exception, where there is one.</param>
    /// <param name="message">What the engine says of it.</param>
    /// <param name="file">The name under which the cell was compiled.</param>
    public static CellOutput.Error Of(Exception? problem, string message, string file)
    {
        if (problem is CompilationErrorException compilation)
        {
            Diagnostic first = compilation.Diagnostics.First(d => d.Severity == DiagnosticSeverity.Error);
            return new("compilation error", first.GetMessage(CultureInfo.InvariantCulture) + $" ({first.Id})", first.Location.GetLineSpan().StartLinePosition.Line + 1, [.. compilation.Diagnostics.Select(d => d.ToString())]);
        }

        Match compiled = CompilerMessage().Match(message);
        if (compiled.Success)
        {
            return new("compilation error", $"{compiled.Groups["text"].Value.Trim()} ({compiled.Groups["id"].Value})", int.Parse(compiled.Groups["line"].Value, CultureInfo.InvariantCulture), message.Split('\n', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries));
        }

        if (problem is null)
        {
            return new("error", message, null, []);
        }

        string[] trace = [.. (problem.StackTrace ?? string.Empty).Split('\n').Select(line => line.Trim()).Where(line => line.Length > 0 && !line.Contains("Microsoft.CodeAnalysis.Scripting", StringComparison.Ordinal) && !line.StartsWith("---", StringComparison.Ordinal))];
        Match at = TraceLine(file).Match(problem.StackTrace ?? string.Empty);
        int? line = at.Success ? int.Parse(at.Groups[1].Value, CultureInfo.InvariantCulture) : null;
        return new(problem.GetType().FullName ?? "exception", problem.Message, line, trace);
    }

    private static Regex TraceLine(string file) => new(Regex.Escape(file) + ":line (\\d+)", RegexOptions.CultureInvariant);

    [GeneratedRegex(@"\((?<line>\d+),\d+\): error (?<id>CS\d+): (?<text>[^\n]*)", RegexOptions.CultureInvariant)]
    private static partial Regex CompilerMessage();
}
