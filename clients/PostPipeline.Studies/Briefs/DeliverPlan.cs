using NodaTime;
using PostPipeline.Quantities;

namespace PostPipeline.Studies.Briefs;

/// <summary>What is due.</summary>
/// <param name="Due">The delivery date; it means 18:00 local time.</param>
/// <param name="Raster">Raster of the master.</param>
/// <param name="Depth">Bits per value of the master.</param>
public sealed record DeliverPlan(
    LocalDate Due,
    Raster Raster,
    int Depth);
