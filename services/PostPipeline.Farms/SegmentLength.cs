namespace PostPipeline.Farms;

/// <summary>What one segment length gives.</summary>
/// <param name="Frames">Frames a segment.</param>
/// <param name="OverheadShare">Overhead and pre-roll ÷ all time on nodes, 0 to 1.</param>
/// <param name="TasksPerNode">Tasks ÷ nodes.</param>
/// <param name="FinishP50">P50 of the finish, microseconds.</param>
/// <param name="FinishP90">P90 of the finish, microseconds.</param>
/// <param name="Bounds">What no schedule at median times can beat.</param>
public sealed record SegmentLength(long Frames, double OverheadShare, double TasksPerNode, double FinishP50, double FinishP90, FarmBounds Bounds);
