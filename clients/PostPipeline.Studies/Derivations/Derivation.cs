using PostPipeline.Studies.Briefs;

namespace PostPipeline.Studies.Derivations;

/// <summary>A number with the formula, the inputs and the sources behind it, as a tree.</summary>
/// <param name="Name">What the number is.</param>
/// <param name="Value">The value with its unit, for print.</param>
/// <param name="Formula">The formula in words; empty for an input.</param>
/// <param name="Substituted">The formula with today's numbers; empty for an input.</param>
/// <param name="Source">Where the formula or the value comes from.</param>
/// <param name="Known">How an input is known; null for a formula.</param>
/// <param name="Inputs">The numbers that go in.</param>
public sealed record Derivation(string Name, string Value, string Formula, string Substituted, string Source, Known? Known, IReadOnlyList<Derivation> Inputs)
{
    /// <summary>An input of the brief.</summary>
    /// <param name="input">The input.</param>
    public static Derivation Of(Estimate input)
    {
        string value = input.IsConstant
            ? Amounts.Text(input.Likely, input.Unit)
            : $"{Amounts.Text(input.Low, input.Unit)} / {Amounts.Text(input.Likely, input.Unit)} / {Amounts.Text(input.High, input.Unit)}";
        string source = input.Line > 0 ? $"the brief, line {input.Line}" : "default";
        return new(
            input.Key,
            input.IsUnknown ? $"unknown, taken as {value}" : value,
            string.Empty,
            string.Empty,
            input.Origin.Length > 0 ? $"{source}: {input.Origin}" : source,
            input.Known,
            []);
    }

    /// <summary>A fact from a service or the brief that is not an uncertain input.</summary>
    /// <param name="name">What it is.</param>
    /// <param name="value">Its value with its unit.</param>
    /// <param name="source">Where it comes from.</param>
    public static Derivation Fact(string name, string value, string source) => new(name, value, string.Empty, string.Empty, source, null, []);

    /// <summary>A computed number.</summary>
    /// <param name="name">What it is.</param>
    /// <param name="value">Its value with its unit.</param>
    /// <param name="formula">The formula in words.</param>
    /// <param name="substituted">The formula with today's numbers.</param>
    /// <param name="source">Where the formula comes from.</param>
    /// <param name="inputs">What goes in.</param>
    public static Derivation Computed(string name, string value, string formula, string substituted, string source, params Derivation[] inputs) =>
        new(name, value, formula, substituted, source, null, inputs);

    /// <summary>The tree as indented lines.</summary>
    /// <param name="depth">How deep the first line is indented.</param>
    public IEnumerable<string> Lines(int depth = 0)
    {
        string indent = new(' ', depth * 2);
        string known = Known is { } how ? $" [{how.ToString().ToLowerInvariant()}]" : string.Empty;
        yield return $"{indent}{Name} = {Value}{known}{(Source.Length > 0 ? $"  ({Source})" : string.Empty)}";
        if (Formula.Length > 0)
        {
            yield return $"{indent}  = {Formula}";
        }

        if (Substituted.Length > 0)
        {
            yield return $"{indent}  = {Substituted}";
        }

        foreach (string line in Inputs.SelectMany(i => i.Lines(depth + 2)))
        {
            yield return line;
        }
    }
}
