namespace PostPipeline.Studies.Scheduling;

/// <summary>An activity of a project network.</summary>
/// <param name="Name">Its name.</param>
/// <param name="After">Names of the activities that it waits for.</param>
/// <param name="Duration">How long it takes; the PERT mean (a + 4m + b)/6 where three estimates are given.</param>
/// <param name="Variance">Variance of its duration; the classic PERT ((b − a)/6)² where three estimates are given.</param>
public sealed record Activity(string Name, IReadOnlyList<string> After, double Duration, double Variance = 0)
{
    /// <summary>An activity by PERT's three estimates with the classic standard deviation (b − a)/6, which is not the beta's own.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="after">Names of the activities that it waits for.</param>
    /// <param name="optimistic">a.</param>
    /// <param name="likely">m.</param>
    /// <param name="pessimistic">b.</param>
    public static Activity FromPert(string name, IReadOnlyList<string> after, double optimistic, double likely, double pessimistic) =>
        new(name, after, (optimistic + (4 * likely) + pessimistic) / 6, Math.Pow((pessimistic - optimistic) / 6, 2));
}
