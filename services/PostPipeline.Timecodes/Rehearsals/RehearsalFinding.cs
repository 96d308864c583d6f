namespace PostPipeline.Timecodes.Rehearsals;

/// <summary>Something that would break, and what mends it.</summary>
/// <param name="Cause">Why.</param>
/// <param name="Fails">True where it happens in every possible behaviour; false where it depends on what nobody knows yet.</param>
/// <param name="TouchesMatch">Whether it keeps events from being matched.</param>
/// <param name="Camera">The camera's name; empty where it concerns several.</param>
/// <param name="FirstDay">First day of the shoot on which it would happen, from 0; −1 where it is not bound to a day.</param>
/// <param name="Takes">Takes concerned.</param>
/// <param name="Events">Events of the synthetic cut concerned, in the worst behaviour.</param>
/// <param name="Description">What would happen.</param>
/// <param name="Remedy">The setting that mends it.</param>
public sealed record RehearsalFinding(
    RehearsalCause Cause,
    bool Fails,
    bool TouchesMatch,
    string Camera,
    int FirstDay,
    long Takes,
    int Events,
    string Description,
    string Remedy);
