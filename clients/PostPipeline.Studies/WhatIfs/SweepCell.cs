namespace PostPipeline.Studies.WhatIfs;

/// <summary>One cell of a sweep.</summary>
/// <param name="Number">Its number, the last axis running fastest.</param>
/// <param name="Values">The value of each axis.</param>
/// <param name="Preferred">The preferred pipeline, or "none".</param>
/// <param name="Outputs">By pipeline, then by output.</param>
public sealed record SweepCell(int Number, IReadOnlyList<double> Values, string Preferred, IReadOnlyList<IReadOnlyList<double>> Outputs);
