namespace PostPipeline.Slates.Usage;

/// <summary>What there was of something in a week, rented units and people away counted.</summary>
/// <param name="Kind">What is counted.</param>
/// <param name="Of">Of what: a class of nodes, a tier, or all people.</param>
/// <param name="Amount">Node-hours, TB-days or person-hours.</param>
public sealed record WeekSupply(UsageKind Kind, string Of, double Amount);
