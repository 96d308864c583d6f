namespace PostPipeline.Farms;

/// <summary>A task that has run longer than its like.</summary>
/// <param name="Running">Its place among the tasks under way.</param>
/// <param name="ExpectedMicroseconds">What it should have taken at the median.</param>
/// <param name="Chance">The chance that a task of its kind runs so long.</param>
public sealed record StuckTask(int Running, double ExpectedMicroseconds, double Chance);
