using System.Collections.Immutable;

namespace PostPipeline.Timecodes.Rehearsals;

/// <summary>What a rehearsal found.</summary>
/// <param name="Passes">True where every event is matched in every possible behaviour; false where something fails in all of them; null where it depends on what nobody knows.</param>
/// <param name="Findings">What would break, worst first.</param>
/// <param name="Events">Events of the synthetic cut.</param>
/// <param name="ProblemEvents">Events that a person would have to look at, in the worst possible behaviour.</param>
/// <param name="ProblemEventsBest">The same in the best behaviour.</param>
/// <param name="Behaviours">How many combinations of behaviours were tried, over all groups of cameras.</param>
public sealed record RehearsalResult(
    bool? Passes, ImmutableArray<RehearsalFinding> Findings, int Events, int ProblemEvents, int ProblemEventsBest, int Behaviours);
