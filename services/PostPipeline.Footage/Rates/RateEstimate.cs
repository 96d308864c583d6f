using PostPipeline.Footage.Codings;
using PostPipeline.Quantities;

namespace PostPipeline.Footage.Rates;

/// <summary>Bytes a frame and a second of one mode. Cards fill on the average; writes fail on the peak.</summary>
public readonly record struct RateEstimate
{
    private readonly FrameRate sensorRate;

    private RateEstimate(FrameBytes frame, long pixels, FrameRate sensorRate, long audioBytesPerSecond) =>
        (Frame, Pixels, this.sensorRate, AudioBytesPerSecond) = (frame, pixels, sensorRate, audioBytesPerSecond);

    /// <summary>Bytes a frame, container included.</summary>
    public FrameBytes Frame { get; }

    /// <summary>Pixels (or photosites) a frame.</summary>
    public long Pixels { get; }

    /// <summary>Pictures on average at the sensor rate.</summary>
    public DataRate Picture => DataRate.FromFrames(Frame.Average, sensorRate);

    /// <summary>Pictures at peak.</summary>
    public DataRate PicturePeak => DataRate.FromFrames(Frame.Peak, sensorRate);

    /// <summary>Sound.</summary>
    public long AudioBytesPerSecond { get; }

    /// <summary>Pictures and sound on average: what fills a card.</summary>
    public DataRate Average => DataRate.FromBytesPerSecond(Picture.BytesPerSecond + AudioBytesPerSecond);

    /// <summary>Pictures at peak and sound: what a write must take.</summary>
    public DataRate Peak => DataRate.FromBytesPerSecond(PicturePeak.BytesPerSecond + AudioBytesPerSecond);

    /// <summary>Pictures on average in whole bytes a second, rounded up.</summary>
    public long PictureBytesPerSecond => Scaled.Up(Frame.Average, sensorRate.Numerator, sensorRate.Denominator);

    /// <summary>Pictures at peak in whole bytes a second, rounded up.</summary>
    public long PicturePeakBytesPerSecond => Scaled.Up(Frame.Peak, sensorRate.Numerator, sensorRate.Denominator);

    /// <summary>Bits a pixel on average, exact.</summary>
    public Rational BitsPerPixel => Rational.From((Int128)Frame.Average * 8, Pixels);

    /// <summary>How much more the peak is than the average, in percent; 0 where all frames have one size.</summary>
    public double PeakPercentAbove => (Frame.PeakFactor.ToDouble() - 1) * 100;

    /// <summary>Bytes of an hour of recording, rounded up.</summary>
    public long BytesPerHour => checked(Scaled.Up(Frame.Average, checked(3600 * sensorRate.Numerator), sensorRate.Denominator) + (3600 * AudioBytesPerSecond));

    /// <summary>Works out a mode without making an object for it.</summary>
    /// <param name="coding">How pictures become bytes.</param>
    /// <param name="raster">The recorded raster.</param>
    /// <param name="sensorRate">Frames recorded a second; the data rate follows it, not the project rate.</param>
    /// <param name="audio">Sound.</param>
    /// <param name="container">What the container adds to each frame.</param>
    /// <param name="playRate">Frames played back a second, which bit rates count by; null for the sensor rate.</param>
    public static RateEstimate Of(
        Coding coding, Raster raster, FrameRate sensorRate, AudioTracks audio = default, ContainerOverhead container = default, FrameRate? playRate = null)
    {
        FrameBytes frame = coding.BytesPerFrame(raster, playRate ?? sensorRate);
        long extra = container.BytesPerFrame;
        if (extra > 0)
        {
            frame = frame.IsConstant
                ? FrameBytes.Constant(frame.Average + extra, frame.Certainty)
                : FrameBytes.Range(frame.Low + extra, frame.Average + extra, frame.Peak + extra, frame.Certainty);
        }

        return new(frame, raster.Pixels, sensorRate, audio.BytesPerSecond);
    }
}
