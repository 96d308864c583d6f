namespace PostPipeline.Slates.Planning;

/// <summary>Units that can be rented on top, by periods counted from the start of the slate.</summary>
/// <param name="Price">One unit for one period, in whole currency units, 0 or more.</param>
/// <param name="Most">Most units at a time, 1 or more.</param>
/// <param name="LeadSlots">Half-days from now until the first rented unit works, 0 or more; periods that begin earlier are not to be had.</param>
/// <param name="PeriodSlots">Half-days of a period, 1 or more; 14 is a week.</param>
public sealed record SlateRental(long Price, int Most, int LeadSlots, int PeriodSlots = 14);
