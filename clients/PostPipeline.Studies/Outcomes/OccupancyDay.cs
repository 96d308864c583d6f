namespace PostPipeline.Studies.Outcomes;

/// <summary>What one tier holds at one moment, over draws.</summary>
/// <param name="Seconds">The moment on the study's clock.</param>
/// <param name="Bytes">Bytes.</param>
public sealed record OccupancyDay(double Seconds, Range Bytes);
