using PostPipeline.Quantities;

namespace PostPipeline.Footage.Rates;

/// <summary>
/// Two independent estimates of a production's originals, side by side: V₁ = days × cameras × hours a camera-day
/// × rate, and V₂ = finished length × shooting ratio × rate. The ratio counts the recorded frames of all cameras.
/// </summary>
public readonly record struct VolumeEstimates
{
    /// <summary>The factor between the two above which they are flagged, 3/2.</summary>
    public static readonly Rational FlagFactor = new(3, 2);

    private VolumeEstimates(Rational recordedSeconds, Rational finishedSeconds, Rational ratio, Rational bytesPerSecond)
    {
        ByDays = (recordedSeconds * bytesPerSecond).Ceiling();
        ByRatio = (finishedSeconds * ratio * bytesPerSecond).Ceiling();
        ImpliedRatio = recordedSeconds / finishedSeconds;
        StatedRatio = ratio;
    }

    /// <summary>V₁ in bytes.</summary>
    public long ByDays { get; }

    /// <summary>V₂ in bytes.</summary>
    public long ByRatio { get; }

    /// <summary>Recorded time ÷ finished time that the days imply.</summary>
    public Rational ImpliedRatio { get; }

    /// <summary>The ratio that was stated.</summary>
    public Rational StatedRatio { get; }

    /// <summary>The larger ratio over the smaller, at least 1.</summary>
    public Rational Apart => ImpliedRatio > StatedRatio ? ImpliedRatio / StatedRatio : StatedRatio / ImpliedRatio;

    /// <summary>Whether the two are more than 1.5 times apart.</summary>
    public bool Flagged => Apart > FlagFactor;

    /// <summary>Works out both.</summary>
    /// <param name="days">Shoot days, 1 to 366.</param>
    /// <param name="cameras">Cameras, 1 to 1,000.</param>
    /// <param name="hoursPerCameraDay">Recorded hours of one camera and day, above 0 to 24.</param>
    /// <param name="finishedSeconds">Finished length, above zero.</param>
    /// <param name="ratio">Recorded frames of all cameras ÷ finished frames, above zero.</param>
    /// <param name="average">What a camera makes while recording.</param>
    public static VolumeEstimates Of(int days, int cameras, Rational hoursPerCameraDay, Rational finishedSeconds, Rational ratio, DataRate average)
    {
        Guard.InRange(days, 1, 366);
        Guard.InRange(cameras, 1, 1000);
        Above(hoursPerCameraDay, 24, nameof(hoursPerCameraDay));
        Above(finishedSeconds, 366 * 86_400L, nameof(finishedSeconds));
        Above(ratio, 1_000_000, nameof(ratio));
        return new(days * (cameras * hoursPerCameraDay) * 3600, finishedSeconds, ratio, average.BytesPerSecond);
    }

    private static void Above(Rational value, Rational high, string name)
    {
        if (value.Sign <= 0 || value > high)
        {
            throw new ArgumentOutOfRangeException(name, value, $"{name} is {value}; allowed is above 0 to {high}.");
        }
    }
}
