namespace PostPipeline.Farms;

/// <summary>Licences of one kind, one held by each running task that needs it.</summary>
/// <param name="Name">A name to show.</param>
/// <param name="Count">How many, 1 or more.</param>
public sealed record LicencePool(string Name, int Count);
