using PostPipeline.Flows;

namespace PostPipeline.Farms;

/// <summary>The smallest farm for a date, and the sizes around it.</summary>
/// <param name="Nodes">The smallest count tried that meets the date with the probability; null where even the most do not.</param>
/// <param name="Sizes">Every size tried, ascending.</param>
/// <param name="Decided">Whether the simulation leaves no doubt: the interval of the answer lies above the probability, that of one node less below.</param>
/// <param name="NodesByDivision">Work ÷ window, unrounded.</param>
/// <param name="UsefulNodes">Nodes that licences and storage can keep busy, unrounded.</param>
/// <param name="Limit">Which of them says so.</param>
/// <param name="Anomaly">Whether a larger farm ended later than a smaller one at the P50 by more than a thousandth.</param>
public sealed record FarmSizingResult(
    int? Nodes, IReadOnlyList<FarmSize> Sizes, bool Decided, double NodesByDivision, double UsefulNodes, FluidLimit Limit, bool Anomaly);
