namespace PostPipeline.Slates.Usage;

/// <summary>What a project used of something in a week, from one source; numbers of several sources add up.</summary>
/// <param name="Project">The project.</param>
/// <param name="Kind">What is counted.</param>
/// <param name="Of">Of what: a class of nodes or the farm as a whole, a tier, a skill or a person.</param>
/// <param name="Basis">Where the number comes from.</param>
/// <param name="Amount">Node-hours, TB-days or person-hours.</param>
/// <param name="Days">Days of the week that it speaks of, 1 to 7.</param>
public sealed record ProjectUsage(string Project, UsageKind Kind, string Of, UsageBasis Basis, double Amount, int Days);
