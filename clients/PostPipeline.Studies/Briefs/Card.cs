using PostPipeline.Quantities;

namespace PostPipeline.Studies.Briefs;

/// <summary>A kind of recording media.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Size">Stated size.</param>
/// <param name="Write">Rated sustained write rate.</param>
/// <param name="Read">Read rate.</param>
/// <param name="Trust">Share of the rated rate that is relied on: the write ceiling over the rating.</param>
/// <param name="LargestFile">The largest file that a take is cut into.</param>
/// <param name="Count">How many there are; null where not said.</param>
public sealed record Card(
    string Name,
    DataSize Size,
    DataRate Write,
    DataRate Read,
    double Trust,
    DataSize LargestFile,
    int? Count = null);
