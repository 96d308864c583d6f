using NodaTime;

namespace PostPipeline.Studies.Reforecasts;

/// <summary>What a unit was to make on a day.</summary>
/// <param name="Date">The date.</param>
/// <param name="Unit">The unit.</param>
/// <param name="Bytes">Bytes.</param>
/// <param name="Minutes">Recorded minutes, all cameras together.</param>
public sealed record PlannedDay(LocalDate Date, string Unit, double Bytes, double Minutes);
