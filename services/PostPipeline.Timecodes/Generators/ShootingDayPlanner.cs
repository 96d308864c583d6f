using PostPipeline.Quantities;
using PostPipeline.Quantities.Randomness;

namespace PostPipeline.Timecodes.Generators;

/// <summary>
/// Invents takes for shooting days, for tests and demonstrations: cameras roll together within a second of each other,
/// for lengths that vary, some of them off speed. One seed, one day.
/// </summary>
public static class ShootingDayPlanner
{
    /// <summary>The most takes of one plan, all cameras and days together.</summary>
    public const int MaximumTakes = 1_000_000;

    private const long SecondsPerDay = 86_400;

    /// <summary>Makes the takes, in order of time for each camera.</summary>
    /// <param name="seed">Any seed.</param>
    /// <param name="settings">What the days look like.</param>
    /// <exception cref="ArgumentOutOfRangeException">A setting is out of range; the message says which and what is allowed.</exception>
    public static IReadOnlyList<DayTake> Plan(long seed, ShootingDaySettings settings)
    {
        Check(settings);
        List<DayTake> takes = [];
        for (int day = 0; day < settings.Days; day++)
        {
            // The day is cut into equal slots; a take starts somewhere in the first half of its slot and ends in it.
            Rational slot = new(settings.DaySeconds, settings.TakesPerDay);
            for (int n = 0; n < settings.TakesPerDay; n++)
            {
                RandomStream random = new(seed, RandomPurpose.Takes, day, n);
                Rational slotStart = (day * SecondsPerDay) + settings.CallSeconds + (n * slot);
                Rational late = slot * new Rational(random.NextBelow(1000), 2000);
                double length = Math.Max(1, random.NextExponential(settings.MeanTakeSeconds));
                bool offSpeed = random.NextBelow(100) < settings.OffSpeedPercent && settings.OffSpeedSensors.Count > 0;
                FrameRate sensor = offSpeed ? settings.OffSpeedSensors[random.NextBelow(settings.OffSpeedSensors.Count)] : settings.BaseSensor;
                for (int camera = 0; camera < settings.Cameras; camera++)
                {
                    Rational lag = new(random.NextBelow(1000), 1000);
                    Rational longest = slot - late - lag;
                    Rational wanted = new((long)(length * 1000), 1000);
                    Rational seconds = wanted < longest ? wanted : longest;
                    long frames = Math.Max(1, (seconds * sensor.FramesPerSecond).Floor());
                    takes.Add(new(camera, slotStart + late + lag, sensor, frames));
                }
            }
        }

        return takes;
    }

    private static void Check(ShootingDaySettings settings)
    {
        Guard.InRange(settings.Cameras, 1, 1000);
        Guard.InRange(settings.Days, 1, 366);
        Guard.InRange((long)settings.TakesPerDay * settings.Days * settings.Cameras, 1, MaximumTakes, "takes of all cameras and days");
        Guard.InRange(settings.CallSeconds, 0, SecondsPerDay - 1);
        Guard.InRange(settings.DaySeconds, 1, SecondsPerDay);
        Guard.InRange(settings.MeanTakeSeconds, 1, SecondsPerDay);
        Guard.InRange(settings.OffSpeedPercent, 0, 100);
        if (settings.TakesPerDay * 4L > settings.DaySeconds)
        {
            throw new ArgumentOutOfRangeException(
                nameof(settings), settings.TakesPerDay, $"{settings.TakesPerDay} takes do not fit into {settings.DaySeconds} s; allowed is one every 4 s.");
        }
    }
}
