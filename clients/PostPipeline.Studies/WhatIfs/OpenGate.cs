namespace PostPipeline.Studies.WhatIfs;

/// <summary>A gate that nobody has shown to pass or to fail.</summary>
/// <param name="Pipeline">The pipeline.</param>
/// <param name="Name">The gate.</param>
/// <param name="Says">What is not known, as a sentence.</param>
public sealed record OpenGate(string Pipeline, string Name, string Says);
