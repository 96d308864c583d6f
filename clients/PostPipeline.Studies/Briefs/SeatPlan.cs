using PostPipeline.Quantities;

namespace PostPipeline.Studies.Briefs;

/// <summary>Who plays the material.</summary>
/// <param name="Editors">Seats.</param>
/// <param name="Streams">Streams or angles a seat plays at once.</param>
/// <param name="Together">Share of seats that play at the same time.</param>
/// <param name="Link">Link of a seat.</param>
/// <param name="Wan">Link of a remote editor.</param>
/// <param name="DecodeIsKnown">Whether the decode rate of a seat was given.</param>
public sealed record SeatPlan(
    int Editors,
    int Streams,
    double Together,
    DataRate Link,
    DataRate Wan,
    bool DecodeIsKnown);
