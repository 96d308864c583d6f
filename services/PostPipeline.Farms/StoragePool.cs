namespace PostPipeline.Farms;

/// <summary>Storage that running tasks share equally, reads and writes together.</summary>
/// <param name="Name">A name to show.</param>
/// <param name="BytesPerSecond">What is left for the farm after seats and ingest, above 0.</param>
/// <param name="LinkBytesPerSecond">The most that one node can move; null where its link never binds.</param>
public sealed record StoragePool(string Name, double BytesPerSecond, double? LinkBytesPerSecond = null);
