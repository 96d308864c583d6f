namespace PostPipeline.Cli.Commands.Farms;

/// <summary>Where the columns of a farm's log stand, from 0; −1 where there is none.</summary>
/// <param name="Job">The job.</param>
/// <param name="Task">The task within the job.</param>
/// <param name="Node">The node.</param>
/// <param name="Start">The start.</param>
/// <param name="End">The end.</param>
/// <param name="Frames">The frames.</param>
/// <param name="State">The state.</param>
internal readonly record struct FarmLogColumns(int Job, int Task, int Node, int Start, int End, int Frames, int State);
