using PostPipeline.Quantities;

namespace PostPipeline.Studies.Briefs;

/// <summary>An item of the delivery matrix: rendered from the master, checked, uploaded.</summary>
/// <param name="Name">What it is.</param>
/// <param name="Render">Its farm work against the final render.</param>
/// <param name="Check">Hours of checking per finished hour.</param>
/// <param name="Size">What is uploaded.</param>
public sealed record Deliverable(string Name, Estimate Render, Estimate Check, DataSize Size);
