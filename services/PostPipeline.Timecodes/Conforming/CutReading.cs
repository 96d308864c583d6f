using System.Collections.Immutable;
using PostPipeline.Timecodes.EditLists;

namespace PostPipeline.Timecodes.Conforming;

/// <summary>A cut and what stood in the way of counting its labels at the given rate.</summary>
/// <param name="Cut">The events whose labels exist at the rate.</param>
/// <param name="Problems">Errors by line; an event named in an error is not in the cut.</param>
/// <param name="ProblemsLeftOff">How many further problems were met beyond those listed.</param>
public sealed record CutReading(Cut Cut, ImmutableArray<EditListProblem> Problems, int ProblemsLeftOff);
