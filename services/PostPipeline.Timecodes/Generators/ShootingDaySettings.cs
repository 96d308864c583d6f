using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.Generators;

/// <summary>What a generated shooting day looks like.</summary>
/// <param name="Cameras">How many cameras roll together, 1 or more.</param>
/// <param name="Days">How many days, 1 to 366.</param>
/// <param name="TakesPerDay">How often the cameras roll in a day, 1 or more.</param>
/// <param name="CallSeconds">When the day starts, in seconds from midnight; a night shoot runs across midnight.</param>
/// <param name="DaySeconds">How long the day lasts, in seconds.</param>
/// <param name="MeanTakeSeconds">Mean length of a take, in seconds; lengths are exponential about it, at least one second.</param>
/// <param name="BaseSensor">The sensor rate of an ordinary take.</param>
/// <param name="OffSpeedSensors">Sensor rates of off-speed takes; empty for none.</param>
/// <param name="OffSpeedPercent">How many takes in a hundred are off speed, 0 to 100.</param>
public sealed record ShootingDaySettings(
    int Cameras,
    int Days,
    int TakesPerDay,
    long CallSeconds,
    long DaySeconds,
    long MeanTakeSeconds,
    FrameRate BaseSensor,
    IReadOnlyList<FrameRate> OffSpeedSensors,
    int OffSpeedPercent);
