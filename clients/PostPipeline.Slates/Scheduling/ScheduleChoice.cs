namespace PostPipeline.Slates.Scheduling;

/// <summary>Options of which exactly one is taken, such as a project's pipelines.</summary>
/// <param name="Name">A name for reports.</param>
/// <param name="Options">Places of the options in the problem.</param>
public sealed record ScheduleChoice(string Name, IReadOnlyList<int> Options);
