namespace PostPipeline.Farms;

/// <summary>Nodes taken out for a while: the highest-numbered of their class.</summary>
/// <param name="NodeClass">The node class, by index.</param>
/// <param name="Nodes">How many.</param>
/// <param name="FromMicroseconds">First instant out.</param>
/// <param name="UntilMicroseconds">First instant back.</param>
public sealed record Maintenance(int NodeClass, int Nodes, long FromMicroseconds, long UntilMicroseconds);
