using NodaTime;
using PostPipeline.Quantities;

namespace PostPipeline.Studies.Briefs;

/// <summary>What renders.</summary>
/// <param name="Nodes">The node classes.</param>
/// <param name="Open">When it may start each day.</param>
/// <param name="Close">When it must stop.</param>
/// <param name="AllDay">Weekdays on which it may run all day.</param>
/// <param name="Maintenance">Dates on which it is shut.</param>
/// <param name="SegmentFrames">Frames of a task at most.</param>
/// <param name="OverheadSeconds">Start and end of a task, s.</param>
/// <param name="Licences">Tasks at once; 0 for not bounded.</param>
/// <param name="Storage">Bytes a second that storage leaves to it.</param>
/// <param name="Replications">Simulated replications behind the calibration.</param>
/// <param name="NoiseReduction">0 none, 1 spatial, 2 temporal, in the conversion of originals.</param>
public sealed record FarmPlan(
    IReadOnlyList<NodeClass> Nodes,
    LocalTime Open,
    LocalTime Close,
    IReadOnlyList<IsoDayOfWeek> AllDay,
    IReadOnlyList<LocalDate> Maintenance,
    int SegmentFrames,
    double OverheadSeconds,
    int Licences,
    DataRate Storage,
    int Replications,
    int NoiseReduction)
{
    /// <summary>The file of one's own measured rows; empty for the invented ones.</summary>
    public string Benchmarks { get; init; } = string.Empty;
}
