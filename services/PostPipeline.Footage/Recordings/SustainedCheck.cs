using PostPipeline.Footage.Codings;
using PostPipeline.Footage.Rates;
using PostPipeline.Quantities;

namespace PostPipeline.Footage.Recordings;

/// <summary>
/// Whether frame × rate × peak factor stays within the write ceiling, and what would: the highest rate, the least
/// further compression, the largest raster. Each is rounded to the side that passes, and then checked again.
/// Within the ceiling is necessary, not sufficient: a mode passes only where someone has shown it.
/// </summary>
public readonly record struct SustainedCheck
{
    private readonly long peakFrameBytes;
    private readonly FrameRate sensorRate;
    private readonly Rational audio;

    private SustainedCheck(long peakFrameBytes, FrameRate sensorRate, Rational audio, WriteCeiling ceiling, Evidence evidence)
    {
        (this.peakFrameBytes, this.sensorRate, this.audio) = (peakFrameBytes, sensorRate, audio);
        Needed = DataRate.FromBytesPerSecond((peakFrameBytes * sensorRate.FramesPerSecond) + audio);
        Ceiling = ceiling;
        WithinCeiling = Needed <= ceiling.Rate;
        Evidence = evidence;
    }

    /// <summary>What a write must take: pictures at peak, and sound.</summary>
    public DataRate Needed { get; }

    /// <summary>What the medium can be trusted to take.</summary>
    public WriteCeiling Ceiling { get; }

    /// <summary>Whether the need stays within the ceiling; equal is within.</summary>
    public bool WithinCeiling { get; }

    /// <summary>What has been shown.</summary>
    public Evidence Evidence { get; }

    /// <summary>True: passes. False: fails. Null: not shown.</summary>
    public bool? Passes => !WithinCeiling || Evidence == Evidence.Fails ? false : Evidence == Evidence.Holds ? true : null;

    /// <summary>Ceiling less need in bytes a second; negative where the mode is over.</summary>
    public Rational MarginBytesPerSecond => Ceiling.Rate.BytesPerSecond - Needed.BytesPerSecond;

    /// <summary>The highest whole sensor rate within the ceiling, rounded down; 0 where not even one frame a second fits.</summary>
    public long HighestWholeRate
    {
        get
        {
            Rational forPictures = Ceiling.Rate.BytesPerSecond - audio;
            return forPictures.Sign <= 0 ? 0 : (forPictures / peakFrameBytes).Floor();
        }
    }

    /// <summary>Further compression that would just do, exact; 1 where none is needed, null where sound alone is too much.</summary>
    public Rational? FurtherRatioNeeded
    {
        get
        {
            Rational forPictures = Ceiling.Rate.BytesPerSecond - audio;
            Rational pictures = Needed.BytesPerSecond - audio;
            return WithinCeiling ? 1 : forPictures.Sign <= 0 ? null : pictures / forPictures;
        }
    }

    /// <summary>Checks one mode on one medium.</summary>
    /// <param name="peakFrameBytes">The largest frame, 1 or more.</param>
    /// <param name="sensorRate">Frames recorded a second.</param>
    /// <param name="audioBytesPerSecond">Sound, zero or more.</param>
    /// <param name="ceiling">What the medium takes.</param>
    /// <param name="evidence">What has been shown.</param>
    public static SustainedCheck Of(long peakFrameBytes, FrameRate sensorRate, Rational audioBytesPerSecond, WriteCeiling ceiling, Evidence evidence = Evidence.Unknown)
    {
        Guard.InRange(peakFrameBytes, 1, long.MaxValue);
        return audioBytesPerSecond.Sign >= 0
            ? new(peakFrameBytes, sensorRate, audioBytesPerSecond, ceiling, evidence)
            : throw new ArgumentOutOfRangeException(nameof(audioBytesPerSecond), audioBytesPerSecond, $"Sound is {audioBytesPerSecond} B/s; allowed is 0 or more.");
    }

    /// <summary>Checks a mode on a medium.</summary>
    /// <param name="mode">The mode.</param>
    /// <param name="ceiling">What the medium takes.</param>
    /// <param name="evidence">What has been shown.</param>
    public static SustainedCheck Of(RecordingMode mode, WriteCeiling ceiling, Evidence evidence = Evidence.Unknown)
    {
        RateEstimate estimate = mode.Estimate();
        return Of(estimate.Frame.Peak, mode.SensorRate, estimate.AudioBytesPerSecond, ceiling, evidence);
    }

    /// <summary>
    /// The least compression ratio against the same base that would do, rounded up to decimals so that the printed
    /// value passes: 3.3308 is shown as 3.34, because 3.33 would fail.
    /// </summary>
    /// <param name="presentRatio">The ratio now, against its base; 1 for none.</param>
    /// <param name="decimals">Decimals shown, 0 to 6.</param>
    /// <returns>The rounded ratio, or null where no ratio does.</returns>
    public Rational? RatioNeeded(Rational presentRatio, int decimals = 2)
    {
        Guard.InRange(decimals, 0, 6);
        if (FurtherRatioNeeded is not { } further)
        {
            return null;
        }

        long scale = 1;
        for (int i = 0; i < decimals; i++)
        {
            scale *= 10;
        }

        return new Rational((presentRatio * further * scale).Ceiling(), scale);
    }

    /// <summary>
    /// The largest raster of the same shape within the ceiling, both sides rounded down to a multiple and checked
    /// again with the coding; null where none does.
    /// </summary>
    /// <param name="mode">The mode that was checked.</param>
    /// <param name="multiple">Sides are multiples of this, 1 to 256.</param>
    public Raster? LargestRaster(RecordingMode mode, int multiple = 2)
    {
        Guard.InRange(multiple, 1, 256);
        if (mode.Coding.OnlyRaster is { } only)
        {
            return WithinCeiling ? only : null;
        }

        for (int width = mode.Raster.Width / multiple * multiple; width > 0; width -= multiple)
        {
            int height = (int)((long)width * mode.Raster.Height / mode.Raster.Width / multiple * multiple);
            if (height == 0)
            {
                return null;
            }

            Raster raster = Raster.From(width, height);
            if (Of(mode with { Raster = raster }, Ceiling).WithinCeiling)
            {
                return raster;
            }
        }

        return null;
    }

    /// <summary>
    /// The largest raster of the same shape within the ceiling where bytes follow pixels, both sides rounded down to
    /// a multiple and checked again; null where none does.
    /// </summary>
    /// <param name="present">The raster of the frames that were checked.</param>
    /// <param name="multiple">Sides are multiples of this, 1 to 256.</param>
    public Raster? LargestRaster(Raster present, int multiple = 2)
    {
        Guard.InRange(multiple, 1, 256);
        for (int width = present.Width / multiple * multiple; width > 0; width -= multiple)
        {
            int height = (int)((long)width * present.Height / present.Width / multiple * multiple);
            if (height > 0 && WouldCarry(new Rational(present.Pixels, (long)width * height)))
            {
                return Raster.From(width, height);
            }
        }

        return null;
    }

    /// <summary>Whether a rate would be within the ceiling; how a printed value is checked again.</summary>
    /// <param name="rate">Frames a second.</param>
    public bool WouldCarry(FrameRate rate) => Of(peakFrameBytes, rate, audio, Ceiling).WithinCeiling;

    /// <summary>Whether so much further compression would be within the ceiling.</summary>
    /// <param name="further">Stored bytes now ÷ stored bytes then, 1 or more.</param>
    public bool WouldCarry(Rational further) =>
        (peakFrameBytes * sensorRate.FramesPerSecond / further) + audio <= Ceiling.Rate.BytesPerSecond;
}
