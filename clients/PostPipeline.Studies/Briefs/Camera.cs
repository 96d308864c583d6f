namespace PostPipeline.Studies.Briefs;

/// <summary>One camera of a unit.</summary>
/// <param name="Letter">The letter that its clips carry.</param>
/// <param name="Unit">The unit it belongs to.</param>
/// <param name="Card">Its media.</param>
/// <param name="Recordings">What it records in a day.</param>
/// <param name="RecordRun">Whether its timecode counts on from the last clip, instead of the time of day.</param>
/// <param name="OffSpeedLabels">How off-speed clips are labelled: per-frame, clock, record-run, none or unknown.</param>
/// <param name="ProxyInCamera">Whether it records a lighter second file; null where unknown.</param>
/// <param name="ProxyMatches">Whether that file can stand for the original; null where unknown.</param>
public sealed record Camera(
    string Letter,
    string Unit,
    Card Card,
    IReadOnlyList<Recording> Recordings,
    bool RecordRun,
    string OffSpeedLabels,
    bool? ProxyInCamera,
    bool? ProxyMatches);
