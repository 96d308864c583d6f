namespace PostPipeline.Slates.Scheduling;

/// <summary>When one task is done and how.</summary>
/// <param name="Task">Place of the task in the problem.</param>
/// <param name="Start">First slot.</param>
/// <param name="End">Slot after the last.</param>
/// <param name="Mode">Place of the mode.</param>
public readonly record struct TaskPlan(int Task, int Start, int End, int Mode);
