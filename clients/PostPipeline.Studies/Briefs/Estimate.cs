namespace PostPipeline.Studies.Briefs;

/// <summary>
/// An input as people know it: one time in ten below <see cref="Low"/>, most likely <see cref="Likely"/>, one time in
/// ten above <see cref="High"/>. Low = high is a constant.
/// </summary>
/// <param name="Key">The key in the brief, which is also the input's name in every study.</param>
/// <param name="Low">The tenth percentile, in <paramref name="Unit"/>.</param>
/// <param name="Likely">The mode.</param>
/// <param name="High">The ninetieth percentile.</param>
/// <param name="Minimum">A hard lower bound: the writer's, or the least that the key allows.</param>
/// <param name="Maximum">A hard upper bound: the writer's, or the most that the key allows.</param>
/// <param name="Unit">The unit of the numbers: h, d, share, B, B/s, s, money or a count such as events/min.</param>
/// <param name="Known">How it is known.</param>
/// <param name="IsUnknown">Whether the writer said <c>unknown</c>; the numbers are then the invented default, widened.</param>
/// <param name="Factor">The shared factor that moves it, or empty.</param>
/// <param name="Weight">The weight of the factor, 0 to 1; 1 moves all of them as one.</param>
/// <param name="Origin">Who or what says so, in the writer's words; empty where not said.</param>
/// <param name="Line">The line in the brief; 0 for a default.</param>
public sealed record Estimate(
    string Key,
    double Low,
    double Likely,
    double High,
    double Minimum,
    double Maximum,
    string Unit,
    Known Known,
    bool IsUnknown = false,
    string Factor = "",
    double Weight = 1,
    string Origin = "",
    long Line = 0)
{
    /// <summary>Whether the value is certain.</summary>
    public bool IsConstant => Low == High;
}
