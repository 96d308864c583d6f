namespace PostPipeline.Farms;

/// <summary>Whoever shares the farm.</summary>
/// <param name="Name">A name to show.</param>
/// <param name="Weight">Under fair sharing, its part of the running tasks against the others; above 0.</param>
public sealed record FarmProject(string Name, double Weight = 1);
