using NodaTime;
using PostPipeline.Quantities;

namespace PostPipeline.Studies.Briefs;

/// <summary>What is due.</summary>
/// <param name="Due">The delivery date; it means 18:00 local time.</param>
/// <param name="Raster">Raster of the master.</param>
/// <param name="Depth">Bits per value of the master.</param>
/// <param name="Items">The delivery matrix, beside the master; empty where the brief is silent.</param>
/// <param name="Link">The link that items go out over.</param>
/// <param name="Rounds">Rounds of review, each with its chance; empty where only their number is given.</param>
public sealed record DeliverPlan(
    LocalDate Due,
    Raster Raster,
    int Depth,
    IReadOnlyList<Deliverable> Items,
    DataRate Link,
    IReadOnlyList<ReviewRound> Rounds);
