namespace PostPipeline.Cli.Commands.Farms;

/// <summary>A row of a farm's own log.</summary>
/// <param name="Line">Its line in the file.</param>
/// <param name="Job">The job's label.</param>
/// <param name="Node">The node's name.</param>
/// <param name="Start">Start.</param>
/// <param name="End">End; null while it runs.</param>
/// <param name="Frames">Frames, 1 or more.</param>
/// <param name="State">The state, in the log's own word.</param>
internal sealed record FarmLogRow(long Line, string Job, string Node, DateTimeOffset Start, DateTimeOffset? End, long Frames, string State);
