namespace PostPipeline.Studies.Briefs;

/// <summary>What kind of value a key takes.</summary>
internal enum ValueKind
{
    Text,
    Choice,
    Choices,
    Whole,
    Number,
    YesNoUnknown,
    Size,
    Rate,
    Time,
    Clock,
    Date,
    Dates,
    Zone,
    Currency,
    FrameRate,
    Raster,
    Estimate,
    Map,
    Maps,
    CountOrMaps,
}
