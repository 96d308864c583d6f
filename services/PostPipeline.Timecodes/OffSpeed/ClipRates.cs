using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.OffSpeed;

/// <summary>The three rates of a clip, which are three things: how fast the sensor ran, what the labels count, how fast it is played.</summary>
/// <param name="Sensor">Frames exposed in a second.</param>
/// <param name="Base">What the labels count.</param>
/// <param name="Playback">Frames shown in a second.</param>
public sealed record ClipRates(FrameRate Sensor, TimecodeFormat Base, FrameRate Playback)
{
    /// <summary>Whether the sensor rate differs from the base; 24 on a base of 24000/1001 does.</summary>
    public bool IsOffSpeed => Sensor != Base.Rate;

    /// <summary>How many times longer the clip plays than it took: 4 for 96 played at 24.</summary>
    public Rational SlowFactor => Sensor.FramesPerSecond / Playback.FramesPerSecond;

    /// <summary>Frames that a recording of so many seconds holds; a frame begun is not a frame recorded.</summary>
    /// <param name="seconds">True seconds of recording, 0 or more.</param>
    /// <exception cref="ArgumentOutOfRangeException">The duration is negative, or the take too long.</exception>
    public long FramesIn(Rational seconds)
    {
        if (seconds.Sign < 0)
        {
            throw new ArgumentOutOfRangeException(nameof(seconds), seconds, $"The recording lasts {seconds} s; allowed is 0 or more.");
        }

        return Guard.InRange((seconds * Sensor.FramesPerSecond).Floor(), 0, TimecodeRange.MaximumFrames);
    }
}
