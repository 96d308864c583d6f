namespace PostPipeline.Studies.Briefs;

/// <summary>
/// Invented defaults by kind of production, inside the ranges that are common practice (no source). They stand in
/// wherever a brief is silent and are marked as invented.
/// </summary>
internal sealed record ProductionDefaults(
    (double Low, double Likely, double High) HoursPerDay,
    (double Low, double Likely, double High) DaysAfterMaterial,
    (double Low, double Likely, double High) EventsPerMinute,
    (double Low, double Likely, double High) GradingHoursPerFinishedHour)
{
    public static ProductionDefaults For(string production) => production switch
    {
        "commercial" => new((0.5, 1.2, 2.5), (5, 8, 14), (20, 30, 40), (60, 120, 240)),
        "episodic" => new((2, 3, 4), (14, 24, 40), (12, 16, 20), (8, 14, 24)),
        "documentary" => new((2, 3.5, 6), (35, 60, 100), (6, 9, 12), (8, 14, 24)),
        "multicam" => new((2, 3.5, 6), (3, 7, 14), (15, 20, 25), (4, 8, 16)),
        "wildlife" => new((1, 2.5, 5), (35, 60, 90), (6, 8, 10), (10, 18, 28)),
        _ => new((1, 2, 3.5), (42, 70, 98), (10, 14, 20), (22, 44, 66)),
    };
}
