namespace PostPipeline.RenderTimes;

/// <summary>Seconds per frame for one question.</summary>
/// <param name="SecondsPerFrame">Median.</param>
/// <param name="Low">Lower end of the band, or of the measured range where the band is refused.</param>
/// <param name="High">Upper end of the band, or of the measured range where the band is refused.</param>
/// <param name="IntervalRefused">Whether there are too few families to promise the coverage.</param>
/// <param name="LogDeviation">Root mean square of log(measured ÷ predicted) on held-out families, times the widening.</param>
/// <param name="OutsideMeasured">Whether the question lies outside what was measured.</param>
/// <param name="Notes">What lies outside and what else should be known.</param>
public sealed record RenderTimeEstimate(
    double SecondsPerFrame,
    double Low,
    double High,
    bool IntervalRefused,
    double LogDeviation,
    bool OutsideMeasured,
    IReadOnlyList<string> Notes);
