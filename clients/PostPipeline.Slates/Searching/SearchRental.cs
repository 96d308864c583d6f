namespace PostPipeline.Slates.Searching;

/// <summary>What can be rented of a resource, and when.</summary>
internal sealed record SearchRental(int Resource, long Price, long Most, IReadOnlyList<(int From, int Until)> Periods);
