namespace PostPipeline.Slates.Checking;

/// <summary>Work that must lie inside a time.</summary>
/// <param name="Project">Whose.</param>
/// <param name="Resource">What does it.</param>
/// <param name="From">The first half-day in which it can be done.</param>
/// <param name="Until">The half-day by which it must be done.</param>
/// <param name="Work">Units times half-days.</param>
/// <param name="Most">The most units that it can use at once.</param>
public sealed record Demand(string Project, string Resource, int From, int Until, double Work, double Most);
