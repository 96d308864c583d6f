namespace PostPipeline.Slates.Scheduling;

/// <summary>
/// Something held from one task's start to another's end, however long that is: a copy of the pictures that
/// lives until acceptance.
/// </summary>
/// <param name="Name">A name for reports.</param>
/// <param name="Use">What is held.</param>
/// <param name="FromTask">Place of the task whose start begins the hold.</param>
/// <param name="UntilTask">Place of the task whose end ends it.</param>
/// <param name="Lag">Slots after that end, 0 or more; what lies beyond the horizon is not looked at.</param>
public sealed record ResourceHold(string Name, ResourceUse Use, int FromTask, int UntilTask, int Lag = 0);
