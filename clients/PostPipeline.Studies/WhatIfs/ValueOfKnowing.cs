namespace PostPipeline.Studies.WhatIfs;

/// <summary>What it would be worth to know an input before choosing a pipeline.</summary>
/// <param name="Input">The input, or a named factor.</param>
/// <param name="Money">Expected money saved by choosing after knowing it, at most.</param>
/// <param name="DaysLate">Expected days of lateness saved, at most.</param>
/// <param name="Known">How it is known now.</param>
/// <param name="WhoKnows">Who would know.</param>
public sealed record ValueOfKnowing(string Input, double Money, double DaysLate, string Known, string WhoKnows);
