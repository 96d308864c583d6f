namespace PostPipeline.Slates.Scheduling;

/// <summary>A plan that keeps every limit.</summary>
/// <param name="Tasks">The tasks that are done, in the order of the problem.</param>
/// <param name="Options">Places of the options that are taken, one for each choice.</param>
/// <param name="Extras">What is rented.</param>
/// <param name="Levels">How far each level was brought.</param>
public sealed record SchedulePlan(
    IReadOnlyList<TaskPlan> Tasks, IReadOnlyList<int> Options, IReadOnlyList<ExtraPlan> Extras, IReadOnlyList<LevelResult> Levels);
