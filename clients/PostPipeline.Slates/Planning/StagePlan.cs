namespace PostPipeline.Slates.Planning;

/// <summary>When a stage runs.</summary>
/// <param name="Stage">Name of the stage.</param>
/// <param name="Start">First half-day.</param>
/// <param name="End">Half-day after the last.</param>
/// <param name="FarmClass">The farm class it runs on; null for other work.</param>
/// <param name="Nodes">Nodes; 0 for other work.</param>
public sealed record StagePlan(string Stage, int Start, int End, string? FarmClass, int Nodes);
