namespace PostPipeline.Footage.Offloads;

/// <summary>One link of a throughput chain: the slowest rules.</summary>
/// <param name="Name">What people call it.</param>
/// <param name="BytesPerSecond">What it lets the chain do.</param>
public readonly record struct ChainLink(string Name, double BytesPerSecond);
