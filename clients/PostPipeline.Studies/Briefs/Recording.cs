namespace PostPipeline.Studies.Briefs;

/// <summary>What a camera records in a day in one mode.</summary>
/// <param name="Mode">The mode.</param>
/// <param name="HoursPerDay">Recorded hours a day; for a burst mode, of windows kept.</param>
/// <param name="TakeSeconds">Length of a usual take, s.</param>
public sealed record Recording(
    CaptureMode Mode,
    Estimate HoursPerDay,
    double TakeSeconds);
