using System.Collections.Immutable;

namespace PostPipeline.Timecodes.MediaChecks;

/// <summary>A folder of media against the plan.</summary>
/// <param name="PlannedClips">Clips of the plan.</param>
/// <param name="FoundClips">Clips that are there, takes of several files counted once.</param>
/// <param name="AsPlanned">Clips that agree with the plan in everything that both sides state.</param>
/// <param name="Findings">What does not agree, at most so many as asked for.</param>
/// <param name="FindingsLeftOff">How many further findings there are.</param>
public sealed record MediaCheckResult(int PlannedClips, int FoundClips, int AsPlanned, ImmutableArray<MediaFinding> Findings, int FindingsLeftOff);
