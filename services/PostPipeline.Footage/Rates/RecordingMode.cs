using PostPipeline.Footage.Codings;
using PostPipeline.Quantities;

namespace PostPipeline.Footage.Rates;

/// <summary>What a camera is set to: coding, raster, frames a second of the sensor and of playback, sound, container.</summary>
public sealed record RecordingMode
{
    /// <summary>Creates a mode that plays back as fast as it records.</summary>
    /// <param name="coding">How pictures become bytes.</param>
    /// <param name="raster">The recorded raster.</param>
    /// <param name="sensorRate">Frames recorded a second.</param>
    public RecordingMode(Coding coding, Raster raster, FrameRate sensorRate) =>
        (Coding, Raster, SensorRate, ProjectRate) = (coding, raster, sensorRate, sensorRate);

    /// <summary>How pictures become bytes.</summary>
    public Coding Coding { get; init; }

    /// <summary>The recorded raster.</summary>
    public Raster Raster { get; init; }

    /// <summary>Frames recorded a second.</summary>
    public FrameRate SensorRate { get; init; }

    /// <summary>Frames played back a second.</summary>
    public FrameRate ProjectRate { get; init; }

    /// <summary>Sound recorded with it.</summary>
    public AudioTracks Audio { get; init; }

    /// <summary>What the container adds.</summary>
    public ContainerOverhead Container { get; init; }

    /// <summary>Sensor rate ÷ project rate: how much slower it looks.</summary>
    public Rational SlowFactor => SensorRate.FramesPerSecond / ProjectRate.FramesPerSecond;

    /// <summary>What the mode makes.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The coding does not carry the raster or rate.</exception>
    public RateEstimate Estimate() => RateEstimate.Of(Coding, Raster, SensorRate, Audio, Container, ProjectRate);
}
