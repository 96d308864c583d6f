using PostPipeline.Farms.Simulations;

namespace PostPipeline.Farms;

/// <summary>
/// The discrete-event simulation of a farm. The same scenario, seed and replication give the same records on any
/// machine and at any thread count; a what-if with the same seed meets the same task times, failures and slow nodes.
/// </summary>
public static class FarmSimulation
{
    /// <summary>Runs one replication.</summary>
    /// <param name="scenario">The farm and its work.</param>
    /// <param name="seed">Any seed.</param>
    /// <param name="replication">The replication, 0 or more.</param>
    /// <param name="recorder">Takes the rows; null keeps none.</param>
    /// <param name="token">Ends the run early.</param>
    /// <exception cref="ArgumentException">The scenario cannot be; the message lists every problem.</exception>
    public static ReplicationResult Run(
        FarmScenario scenario, long seed = 0, int replication = 0, ITaskRecorder? recorder = null, CancellationToken token = default) =>
        new FarmPlans(scenario, seed).Run(replication, recorder, token);
}
