namespace PostPipeline.Studies.WhatIfs;

/// <summary>What it would be worth to know an input before choosing a pipeline.</summary>
/// <param name="Input">The input.</param>
/// <param name="Changes">The share of cases, 0 to 1, in which the choice would be another.</param>
/// <param name="Money">
/// Expected money saved by choosing after knowing it; negative where the choice that keeps the date costs more.
/// </param>
/// <param name="DaysLate">Expected days of lateness saved; negative where a cheaper choice within the rule is later.</param>
/// <param name="Known">How it is known now.</param>
/// <param name="WhoKnows">Who would know.</param>
public sealed record ValueOfKnowing(string Input, double Changes, double Money, double DaysLate, string Known, string WhoKnows);
