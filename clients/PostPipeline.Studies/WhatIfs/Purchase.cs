namespace PostPipeline.Studies.WhatIfs;

/// <summary>What one more of something buys.</summary>
/// <param name="What">What is added.</param>
/// <param name="Pipeline">For which pipeline.</param>
/// <param name="SecondsSaved">By how much delivery P90 comes earlier, s; 0 where it does not bind.</param>
/// <param name="OnTimeGained">By how much P(on time) rises.</param>
/// <param name="CostChange">By how much cost P50 changes, the thing's own price left out.</param>
/// <param name="Opens">The gates that it makes pass.</param>
/// <param name="Preferred">The preferred pipeline with it, or "none".</param>
public sealed record Purchase(string What, string Pipeline, double SecondsSaved, double OnTimeGained, double CostChange, IReadOnlyList<string> Opens, string Preferred);
