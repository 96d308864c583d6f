namespace PostPipeline.Farms;

/// <summary>Work that must be done between two instants.</summary>
/// <param name="ReleaseMicroseconds">When it can begin.</param>
/// <param name="DueMicroseconds">When it must be done.</param>
/// <param name="NodeHours">How much there is, in hours of the reference node.</param>
public sealed record DueWork(long ReleaseMicroseconds, long DueMicroseconds, double NodeHours);
