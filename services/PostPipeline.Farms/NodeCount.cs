using PostPipeline.Quantities;

namespace PostPipeline.Farms;

/// <summary>Counts of nodes by division: the rule of thumb, and the ceiling that storage sets. Common practice, no source.</summary>
public static class NodeCount
{
    /// <summary>
    /// Nodes by the rule of thumb, unrounded: work × retry factor ÷ (window × efficiency × availability) × safety. Round up
    /// to buy; show the raw value beside it. Size for a probability with <see cref="FarmSizing"/> instead, without a safety
    /// factor.
    /// </summary>
    /// <param name="workHours">Node-hours of work, 0 or more.</param>
    /// <param name="windowHours">Hours in which the farm runs, above 0.</param>
    /// <param name="retryFactor">Attempts per task done, 1 or more; 1 ÷ (1 − failure probability).</param>
    /// <param name="efficiency">Useful share of a running node's time, above 0 to 1.</param>
    /// <param name="availability">Share of the window that a node is up, above 0 to 1.</param>
    /// <param name="safety">A margin, 1 or more; 1 for none.</param>
    public static double ByRule(
        double workHours, double windowHours, double retryFactor = 1, double efficiency = 1, double availability = 1, double safety = 1) =>
        Guard.Finite(workHours, 0, 1e12) * Guard.Finite(retryFactor, 1, 1e3) * Guard.Finite(safety, 1, 100)
        / (Guard.Finite(windowHours, 1e-9, 1e9) * Guard.Finite(efficiency, 1e-6, 1) * Guard.Finite(availability, 1e-6, 1));

    /// <summary>
    /// Nodes that storage can feed, unrounded: what seats leave over ÷ what one node moves. Round down: the node after the
    /// last whole one adds only the fraction.
    /// </summary>
    /// <param name="leftOverBytesPerSecond">Bytes a second left for the farm, 0 or more.</param>
    /// <param name="nodeBytesPerSecond">Bytes a second that a busy node reads and writes, above 0.</param>
    public static double UsefulForStorage(double leftOverBytesPerSecond, double nodeBytesPerSecond) =>
        Guard.Finite(leftOverBytesPerSecond, 0, 1e18) / Guard.Finite(nodeBytesPerSecond, 1e-6, 1e18);
}
