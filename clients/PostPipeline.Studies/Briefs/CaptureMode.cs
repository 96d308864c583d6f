using PostPipeline.Quantities;

namespace PostPipeline.Studies.Briefs;

/// <summary>A way in which a camera records.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Raster">Pixels, or photosites of raw.</param>
/// <param name="Sampling">raw, 444, 422 or 420.</param>
/// <param name="Depth">Bits per value.</param>
/// <param name="BitsPerPixel">Stored bits per pixel; 0 where a data rate is stated.</param>
/// <param name="Rate">The stated data rate at the project rate, or null.</param>
/// <param name="ProjectRate">The rate at which it plays.</param>
/// <param name="SensorRate">Frames taken per second.</param>
/// <param name="PeakFactor">Peak over average data rate.</param>
/// <param name="Sustained">Whether a test or the mode table says that it records without end.</param>
/// <param name="BurstSeconds">The burst window, s, where stated.</param>
/// <param name="Buffer">The memory in front of the card, where stated.</param>
/// <param name="ReadyAgainSeconds">From the end of a burst until ready again, s, where stated.</param>
/// <param name="Trigger">Place of the trigger in the window, 0 to 1.</param>
/// <param name="Drain">while-recording, after or unknown.</param>
/// <param name="LongGop">Whether frames depend on each other.</param>
/// <param name="Trimmable">Whether a range can be cut out without a new encode.</param>
public sealed record CaptureMode(
    string Name,
    Raster Raster,
    string Sampling,
    int Depth,
    double BitsPerPixel,
    DataRate? Rate,
    FrameRate ProjectRate,
    FrameRate SensorRate,
    double PeakFactor,
    bool? Sustained,
    double? BurstSeconds,
    DataSize? Buffer,
    double? ReadyAgainSeconds,
    double Trigger,
    string Drain,
    bool? LongGop,
    bool? Trimmable)
{
    /// <summary>Whether the mode takes frames at another rate than the project plays them.</summary>
    public bool IsOffSpeed => SensorRate != ProjectRate;
}
