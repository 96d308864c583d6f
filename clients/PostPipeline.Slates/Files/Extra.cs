namespace PostPipeline.Slates.Files;

/// <summary>Something that can be rented by the week.</summary>
/// <param name="Name">What it is called.</param>
/// <param name="Adds">What one of it adds to: the name of a node class, a skill, suites, online or nearline (a usable TB).</param>
/// <param name="Most">The most that can be had at a time.</param>
/// <param name="WeekPrice">One for a week, whole currency units.</param>
/// <param name="LeadDays">Days from the order to its first use.</param>
public sealed record Extra(string Name, string Adds, int Most, long WeekPrice, int LeadDays);
