using System.CommandLine;
using System.CommandLine.Parsing;
using System.Globalization;
using System.Runtime.CompilerServices;
using System.Text.RegularExpressions;

namespace PostPipeline.Cli.Frame;

/// <summary>
/// Which option fills which field of a request. A service names the field that it refuses; the user knows only options, so
/// a refusal is put into their terms before it is shown.
/// </summary>
internal static partial class OptionFields
{
    private static readonly ConditionalWeakTable<Symbol, string[]> Filled = [];

    /// <summary>Says which fields of a request an option fills.</summary>
    /// <param name="option">The option or argument.</param>
    /// <param name="fields">Fields as a service names them, without the places of items: <c>medium.capacity_bytes</c>.</param>
    /// <returns>The same.</returns>
    public static T Fills<T>(this T option, params string[] fields)
        where T : Symbol
    {
        Filled.Add(option, fields);
        return option;
    }

    /// <summary>A problem with a field of a request as a problem with the option that filled it; unchanged where none did.</summary>
    /// <param name="problem">The problem; its value may say which of several values of the option is meant.</param>
    /// <param name="line">The command line.</param>
    public static InputProblem InTermsOf(this InputProblem problem, ParseResult line)
    {
        if (problem.File.Length > 0 || problem.Field.Length == 0 || problem.Field[0] == '-')
        {
            return problem;
        }

        string[] placed = problem.Field.Split('.');
        string[] parts = [.. placed.Select(part => Place().Replace(part, string.Empty))];
        Command command = line.CommandResult.Command;
        for (int start = 0; start < parts.Length; start++)
        {
            for (int end = parts.Length; end > start; end--)
            {
                string field = string.Join('.', parts[start..end]);
                if (command.Options.Concat<Symbol>(command.Arguments).FirstOrDefault(o => Filled.TryGetValue(o, out string[]? fields) && fields.Contains(field)) is { } option)
                {
                    return Of(option, Value(option, line, problem.Value, placed[end - 1]), string.Join('.', parts[end..]), problem.Problem);
                }
            }
        }

        return problem;
    }

    // The one value that is meant: the one that made the item, the one at the field's own place, or the only one.
    private static string Value(Symbol option, ParseResult line, string label, string placed)
    {
        string[] given = [.. line.GetResult(option)?.Tokens.Select(t => t.Value) ?? []];
        return given.Contains(label) ? label
            : given.Length == 1 ? given[0]
            : Place().Match(placed) is { Success: true } place && int.Parse(place.Groups[1].Value, CultureInfo.InvariantCulture) is var i && i < given.Length ? given[i]
            : string.Empty;
    }

    private static InputProblem Of(Symbol option, string value, string part, string problem)
    {
        if (InFile().Match(problem) is { Success: true } place)
        {
            return new(
                value, long.Parse(place.Groups[1].Value, CultureInfo.InvariantCulture), long.Parse(place.Groups[2].Value, CultureInfo.InvariantCulture),
                place.Groups[3].Value, string.Empty, place.Groups[4].Value);
        }

        string repeated = $"is {value}; ";
        string what = part.Length > 0 ? $"{part} {problem}"
            : value.Length > 0 && problem.StartsWith(repeated, StringComparison.Ordinal) ? problem[repeated.Length..] : problem;
        return InputProblem.Of(option.Name, value, what);
    }

    [GeneratedRegex(@"\[(\d{1,9})\]$")]
    private static partial Regex Place();

    // A service that was given the text of a file says where in it; the client knows the file's name.
    [GeneratedRegex(@"^line (\d+), column (\d+), ([^:]*): (.*)$", RegexOptions.Singleline)]
    private static partial Regex InFile();
}
