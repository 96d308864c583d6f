using PostPipeline.Quantities;

namespace PostPipeline.Footage.Rates;

/// <summary>Recorded time of one camera and day in one mode.</summary>
/// <param name="Mode">The mode.</param>
/// <param name="RecordSeconds">Seconds recorded, zero or more.</param>
public readonly record struct ModeShare(RecordingMode Mode, Rational RecordSeconds)
{
    /// <summary>Whole frames recorded.</summary>
    public long Frames => (RecordSeconds * Mode.SensorRate.FramesPerSecond).Floor();

    /// <summary>Bytes made, rounded up.</summary>
    public DataSize Bytes => DataSize.FromBytes((Mode.Estimate().Average.BytesPerSecond * RecordSeconds).Ceiling());

    /// <summary>Bytes of a day of mixed modes.</summary>
    /// <param name="shares">What was recorded in each mode.</param>
    public static DataSize Total(IEnumerable<ModeShare> shares)
    {
        DataSize total = DataSize.Zero;
        foreach (ModeShare share in shares)
        {
            total += share.Bytes;
        }

        return total;
    }

    /// <summary>The tree behind a day of mixed modes.</summary>
    /// <param name="shares">What was recorded in each mode.</param>
    public static Derivation Explain(IReadOnlyList<ModeShare> shares) => new()
    {
        Name = "bytes of all modes",
        Formula = "sum over modes of ⌈rate × recorded seconds⌉",
        Substituted = string.Join(" + ", shares.Select(s => s.Bytes.Bytes)),
        Value = Total(shares).Bytes.ToString(),
        Unit = "B",
        Inputs = [.. shares.SelectMany(s => new[] { RateExplanation.Of(s.Mode, s.Mode.Estimate()), Derivation.Input("recorded", s.RecordSeconds.ToString(), "s") })],
    };
}
