namespace PostPipeline.Quantities;

/// <summary>
/// One node of the tree behind a number: formula ← inputs ← sources. A reader can follow every result down to a
/// standard, a measurement or a guess, and sees each margin by its name.
/// </summary>
public sealed record Derivation
{
    /// <summary>What the number is, for example <c>bytes per frame</c>.</summary>
    public required string Name { get; init; }

    /// <summary>The value as text, exact where the number is exact.</summary>
    public required string Value { get; init; }

    /// <summary>The unit, for example <c>B</c> or <c>MB/s</c>; empty for a plain number or a word.</summary>
    public string Unit { get; init; } = string.Empty;

    /// <summary>The formula in symbols; empty for an input.</summary>
    public string Formula { get; init; } = string.Empty;

    /// <summary>The formula with the numbers in it; empty for an input.</summary>
    public string Substituted { get; init; } = string.Empty;

    /// <summary>Where the formula or the value comes from.</summary>
    public string Source { get; init; } = string.Empty;

    /// <summary>How the value is known.</summary>
    public Known Known { get; init; }

    /// <summary>The margin that this step puts on, by name; empty where there is none.</summary>
    public string Margin { get; init; } = string.Empty;

    /// <summary>What sets this number now; empty where nothing limits it.</summary>
    public string BindingLimit { get; init; } = string.Empty;

    /// <summary>What would set it after that; empty where there is nothing.</summary>
    public string NextLimit { get; init; } = string.Empty;

    /// <summary>The numbers that go into this one.</summary>
    public IReadOnlyList<Derivation> Inputs { get; init; } = [];

    /// <summary>An input: a value that is given and not worked out.</summary>
    /// <param name="name">What it is.</param>
    /// <param name="value">Its value.</param>
    /// <param name="unit">Its unit.</param>
    /// <param name="source">Where it comes from.</param>
    /// <param name="known">How it is known.</param>
    public static Derivation Input(string name, string value, string unit = "", string source = "", Known known = Known.Unspecified) =>
        new() { Name = name, Value = value, Unit = unit, Source = source, Known = known };

    /// <summary>The margins in the tree, from the top down.</summary>
    /// <exception cref="InvalidOperationException">A margin stands in it twice: it would be put on twice.</exception>
    public IReadOnlyList<string> Margins()
    {
        List<string> margins = [];
        Collect(this, margins, [], new HashSet<Derivation>(ReferenceEqualityComparer.Instance));
        return margins;
    }

    private static void Collect(Derivation node, List<string> margins, HashSet<string> names, HashSet<Derivation> seen)
    {
        // A shared subtree is one number used in two places; its margin is on once.
        if (!seen.Add(node))
        {
            return;
        }

        if (node.Margin.Length > 0)
        {
            if (!names.Add(node.Margin))
            {
                throw new InvalidOperationException($"The margin '{node.Margin}' stands twice in the derivation of one number.");
            }

            margins.Add(node.Margin);
        }

        foreach (Derivation input in node.Inputs)
        {
            Collect(input, margins, names, seen);
        }
    }
}
