namespace PostPipeline.Notebooks.Rendering;

/// <summary>Why a number is what it is: the formula with today's numbers, and below it the numbers it was made from. Unfolds on the page.</summary>
/// <param name="Name">What the number is.</param>
/// <param name="Value">The number with its unit.</param>
/// <param name="Formula">The formula with the numbers in it; empty for an input.</param>
/// <param name="Source">Where an input comes from, and how it is known; empty for a result.</param>
/// <param name="Inputs">What it was made from.</param>
public sealed record Derivation(string Name, string Value, string Formula, string Source, IReadOnlyList<Derivation> Inputs);
