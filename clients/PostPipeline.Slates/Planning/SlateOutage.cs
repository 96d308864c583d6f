namespace PostPipeline.Slates.Planning;

/// <summary>Units that are not to be had for a while; a stage that needs them is not interrupted but planned around.</summary>
/// <param name="From">First half-day.</param>
/// <param name="Until">Half-day after the last.</param>
/// <param name="Amount">Units, 0 or more.</param>
/// <param name="Reason">Why: maintenance, leave, other work.</param>
public sealed record SlateOutage(int From, int Until, long Amount, string Reason);
