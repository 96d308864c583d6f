using PostPipeline.Contracts.Rendering.V1;

namespace PostPipeline.Cli.Commands.Farms;

/// <summary>A row of a farm's own log: one attempt at one task.</summary>
/// <param name="Line">Its line in the file.</param>
/// <param name="Job">The job's label.</param>
/// <param name="Task">The task within the job; empty where the log has no such column.</param>
/// <param name="Node">The node's name.</param>
/// <param name="StartSeconds">Start, seconds since 1970-01-01 UTC.</param>
/// <param name="EndSeconds">End, seconds since 1970-01-01 UTC; null while it runs.</param>
/// <param name="Frames">Frames, 1 or more.</param>
/// <param name="State">How it stands; unspecified where the log's word is none of those named, or where there is no such column.</param>
/// <param name="Word">The log's own word for the state; empty where there is none.</param>
/// <param name="Attempt">Which attempt at its task it is, from 1; 0 where the log does not say.</param>
internal sealed record FarmLogRow(long Line, string Job, string Task, string Node, double StartSeconds, double? EndSeconds, long Frames, AttemptState State, string Word, int Attempt);
