namespace PostPipeline.Farms;

/// <summary>One attempt at one task, as a flat row: statistics are made from rows, afterwards.</summary>
/// <param name="Job">The job, by index; competing work has the numbers after the scenario's jobs.</param>
/// <param name="Segment">The segment, from 0; the join has the number after the last segment.</param>
/// <param name="Attempt">From 0.</param>
/// <param name="Node">The node, from 0 through the classes in their order.</param>
/// <param name="Ready">When it began to wait for a node, microseconds.</param>
/// <param name="Start">When it got one.</param>
/// <param name="End">When it left it.</param>
/// <param name="Outcome">How it ended.</param>
public readonly record struct TaskRecord(int Job, int Segment, int Attempt, int Node, long Ready, long Start, long End, TaskOutcome Outcome);
