namespace PostPipeline.Studies;

/// <summary>What the rehearsal of the planned takes found.</summary>
/// <param name="Passes">Whether every event can be matched: true, false, or null where not shown.</param>
/// <param name="Events">Events of the synthetic cut.</param>
/// <param name="ProblemEvents">Events that a person would have to look at, in the worst possible behaviour.</param>
/// <param name="ProblemEventsBest">The same in the best behaviour.</param>
/// <param name="Findings">What would break and what mends it.</param>
public sealed record RehearsalFacts(bool? Passes, int Events, int ProblemEvents, int ProblemEventsBest, IReadOnlyList<RehearsalNote> Findings)
{
    /// <summary>Share of events with a problem, worst case.</summary>
    public double ProblemShare => Events == 0 ? 0 : (double)ProblemEvents / Events;
}
