using PostPipeline.Quantities;

namespace PostPipeline.Footage.Offloads;

/// <summary>
/// The end of the offload against the courier and the rest before the next call. The floor of 11 h is that of
/// Directive 2003/88/EC; local rules differ and win, and nothing here may be planned into rest time.
/// </summary>
/// <param name="EndMicroseconds">When the last card is done.</param>
/// <param name="CourierMicroseconds">When the courier leaves, or null.</param>
/// <param name="NextCallMicroseconds">When the next call is, or null.</param>
/// <param name="RestHours">The least rest, 11 h where nothing else rules.</param>
public readonly record struct EndOfDay(long EndMicroseconds, long? CourierMicroseconds, long? NextCallMicroseconds, double RestHours = EndOfDay.EuropeanFloorHours)
{
    /// <summary>The daily rest of Directive 2003/88/EC, article 3, in hours.</summary>
    public const double EuropeanFloorHours = 11;

    /// <summary>Time left before the courier; negative where it is missed; null without one.</summary>
    public long? BeforeCourierMicroseconds => CourierMicroseconds - EndMicroseconds;

    /// <summary>Rest beyond the least; negative where it is broken; null without a next call.</summary>
    public long? RestToSpareMicroseconds => NextCallMicroseconds - EndMicroseconds - (long)(Guard.Finite(RestHours, 0, 24) * 3_600e6);

    /// <summary>Equal cards at wrap: ⌈cards ÷ stations⌉ × time, never less than one whole card.</summary>
    /// <param name="cards">Cards waiting and the last ones.</param>
    /// <param name="stations">Stations.</param>
    /// <param name="cardSeconds">Seconds a card.</param>
    public static double EqualCardsSeconds(int cards, int stations, double cardSeconds)
    {
        Guard.InRange(cards, 0, 100_000);
        Guard.InRange(stations, 1, OffloadMeans.MaximumStations);
        return (cards + stations - 1) / stations * Guard.Finite(cardSeconds, 0, 1e9);
    }
}
