namespace PostPipeline.Studies.WhatIfs;

/// <summary>An input that differs between two briefs, and what it alone moves.</summary>
/// <param name="Input">The input.</param>
/// <param name="Before">Its range in the first brief, for print; empty where it is not there.</param>
/// <param name="After">Its range in the second, for print.</param>
/// <param name="DeliverySeconds">By how much it alone moves the first brief's delivery P90 of the pipeline, s; NaN where it cannot be tried alone.</param>
/// <param name="Cost">By how much it alone moves cost P50.</param>
public sealed record MovedInput(string Input, string Before, string After, double DeliverySeconds, double Cost);
