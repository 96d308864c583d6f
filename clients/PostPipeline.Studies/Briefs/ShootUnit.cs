using NodaTime;

namespace PostPipeline.Studies.Briefs;

/// <summary>A unit of the shoot.</summary>
/// <param name="Name">Its name.</param>
/// <param name="FirstDay">The first shoot day it works, from 1.</param>
/// <param name="Days">How many shoot days it works.</param>
/// <param name="Call">Start of its day.</param>
/// <param name="Wrap">When its last card comes out.</param>
public sealed record ShootUnit(
    string Name,
    int FirstDay,
    int Days,
    LocalTime Call,
    LocalTime Wrap);
