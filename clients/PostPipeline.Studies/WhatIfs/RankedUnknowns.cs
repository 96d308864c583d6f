namespace PostPipeline.Studies.WhatIfs;

/// <summary>What to find out first, and against which choice it was held.</summary>
/// <param name="Now">The pipeline that is preferred now, or "none".</param>
/// <param name="Taken">
/// The pipeline whose dates and money stand for today's choice: the preferred one, or, where none is admissible, the one
/// that fails the fewest gates beside the date and of these is most likely on time.
/// </param>
/// <param name="OpenGates">Gates that are unknown whatever the inputs turn out to be: someone has to look or to test.</param>
/// <param name="Inputs">The uncertain inputs, the most valuable first.</param>
public sealed record RankedUnknowns(string Now, string Taken, IReadOnlyList<OpenGate> OpenGates, IReadOnlyList<ValueOfKnowing> Inputs)
{
    /// <summary>Whether no pipeline is admissible, so that another one stands in.</summary>
    public bool StandsIn => Now == Decision.None;
}
