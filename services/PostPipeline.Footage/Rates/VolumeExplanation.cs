using PostPipeline.Quantities;

namespace PostPipeline.Footage.Rates;

/// <summary>The tree behind two estimates of a volume.</summary>
public static class VolumeExplanation
{
    /// <summary>Explains how far the two are apart.</summary>
    /// <param name="volumes">Both estimates.</param>
    /// <param name="days">Shoot days.</param>
    /// <param name="cameras">Cameras.</param>
    /// <param name="hours">Recorded hours of one camera and day.</param>
    /// <param name="finishedSeconds">Finished length.</param>
    /// <param name="rate">What a camera makes.</param>
    public static Derivation Of(VolumeEstimates volumes, int days, int cameras, Rational hours, Rational finishedSeconds, DataRate rate)
    {
        Derivation camera = Derivation.Input("rate of a camera", rate.BytesPerSecond.ToString(), "B/s");
        Derivation length = Derivation.Input("finished length", finishedSeconds.ToString(), "s");
        return new()
        {
            Name = "apart",
            Formula = "larger ratio ÷ smaller ratio; flagged above 1.5",
            Substituted = $"{volumes.ImpliedRatio.ToDouble():0.##} and {volumes.StatedRatio.ToDouble():0.##}",
            Value = volumes.Apart.ToDouble().ToString("0.###"),
            Source = "common practice, no source",
            Inputs =
            [
                new()
                {
                    Name = "by days", Formula = "days × cameras × hours × 3600 × rate", Substituted = $"{days} × {cameras} × {hours} × 3600 × {rate.BytesPerSecond}", Value = volumes.ByDays.ToString(), Unit = "B",
                    Inputs = [Derivation.Input("days", days.ToString()), Derivation.Input("cameras", cameras.ToString()), Derivation.Input("recorded hours of a camera-day", hours.ToString(), "h"), camera],
                },
                new()
                {
                    Name = "by ratio", Formula = "finished length × ratio × rate", Substituted = $"{finishedSeconds} × {volumes.StatedRatio} × {rate.BytesPerSecond}", Value = volumes.ByRatio.ToString(), Unit = "B",
                    Inputs = [length, Derivation.Input("shooting ratio, all cameras", volumes.StatedRatio.ToString()), camera],
                },
            ],
        };
    }
}
