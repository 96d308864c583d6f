namespace PostPipeline.Studies.WhatIfs;

/// <summary>An outcome that differs between two briefs.</summary>
/// <param name="Pipeline">The pipeline; empty for the shoot as a whole.</param>
/// <param name="What">The outcome.</param>
/// <param name="Before">Its value in the first brief, for print.</param>
/// <param name="After">Its value in the second.</param>
public sealed record MovedOutcome(string Pipeline, string What, string Before, string After);
