namespace PostPipeline.Notebooks.Parameters;

/// <summary>One declared parameter with its value. Bounds and values are text in one canonical form, so that they can stand in an address.</summary>
/// <param name="Name">Its name, as in the cell.</param>
/// <param name="Kind">What it takes.</param>
/// <param name="Label">What people read beside it.</param>
/// <param name="Default">The value in the notebook.</param>
/// <param name="Value">The value of this run.</param>
/// <param name="Minimum">The lowest value of a number or date; empty otherwise.</param>
/// <param name="Maximum">The highest value of a number or date; empty otherwise.</param>
/// <param name="Step">The step of a number; empty otherwise.</param>
/// <param name="Unit">The unit of a number; may be empty.</param>
/// <param name="Options">The options of a choice; empty otherwise.</param>
public sealed record ParameterDeclaration(string Name, ParameterKind Kind, string Label, string Default, string Value, string Minimum, string Maximum, string Step, string Unit, IReadOnlyList<string> Options)
{
    /// <summary>The value with its unit, as people read it.</summary>
    public string ValueText => Unit.Length == 0 ? Value : $"{Value} {Unit}";
}
