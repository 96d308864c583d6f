namespace PostPipeline.Notebooks.Charts;

/// <summary>One thing that goes on in one lane for a while.</summary>
/// <param name="Lane">The card, the node, the station.</param>
/// <param name="State">What goes on: the same word has the same colour in every lane.</param>
/// <param name="Start">When it starts, in the unit of the axis.</param>
/// <param name="End">When it ends, not before it starts.</param>
public sealed record LaneBar(string Lane, string State, double Start, double End);
