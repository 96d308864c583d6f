namespace PostPipeline.Slates.Planning;

/// <summary>Half-days in which work goes on. A stage that meets closed half-days waits and goes on after them.</summary>
/// <param name="Name">Its name; unique in a slate.</param>
/// <param name="Open">For each slot of the horizon, whether it is worked.</param>
public sealed record SlateCalendar(string Name, IReadOnlyList<bool> Open);
