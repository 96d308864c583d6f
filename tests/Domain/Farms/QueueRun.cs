namespace PostPipeline.Domain.Tests.Farms;

/// <summary>One replication of a queueing model.</summary>
/// <param name="Measures">One estimate of each measure of the table.</param>
/// <param name="Controls">
/// Means of what was drawn (gaps, services, routes) less their known expectations. They explain a good part of why
/// replications differ, and what they explain need not be simulated away.
/// </param>
internal sealed record QueueRun(Dictionary<string, double> Measures, double[] Controls);
