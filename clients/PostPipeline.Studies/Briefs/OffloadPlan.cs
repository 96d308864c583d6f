using PostPipeline.Quantities;

namespace PostPipeline.Studies.Briefs;

/// <summary>How cards are copied.</summary>
/// <param name="Stations">Copying stations of each unit.</param>
/// <param name="Reader">Read rate of a reader.</param>
/// <param name="Hash">Rate at which a station computes hashes.</param>
/// <param name="Destinations">The copies.</param>
/// <param name="Verify">none, sizes, destinations, source-and-destinations or camera-hashes.</param>
/// <param name="PerFileSeconds">Cost of a file, s.</param>
/// <param name="TransitSeconds">Camera to station, s.</param>
/// <param name="LookSeconds">Looking at a card, s.</param>
/// <param name="RestSeconds">Least rest before the next call, s.</param>
/// <param name="CollectSeconds">From the end of offload until post can work on the material, s.</param>
public sealed record OffloadPlan(
    int Stations,
    DataRate Reader,
    DataRate Hash,
    IReadOnlyList<Destination> Destinations,
    string Verify,
    double PerFileSeconds,
    double TransitSeconds,
    double LookSeconds,
    double RestSeconds,
    double CollectSeconds);
