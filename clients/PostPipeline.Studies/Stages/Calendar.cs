namespace PostPipeline.Studies.Stages;

/// <summary>Bounds of the study's calendar.</summary>
internal static class Calendar
{
    /// <summary>The reading of "not within the calendar": later than any date, and safe to add to.</summary>
    public const long Never = 4_000_000_000;

    /// <summary>Seconds of a day of 24 hours.</summary>
    public const double Day = 86_400;
}
