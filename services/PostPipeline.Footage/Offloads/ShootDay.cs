namespace PostPipeline.Footage.Offloads;

/// <summary>One unit's day.</summary>
/// <param name="Cameras">Its cameras.</param>
/// <param name="WrapMicroseconds">When recording ends; every card is pulled then, or at the end of the last take.</param>
/// <param name="DayNumber">Whole days after the unit's first day; the day's clock starts at its midnight.</param>
public sealed record ShootDay(IReadOnlyList<CameraDay> Cameras, long WrapMicroseconds, int DayNumber = 0);
