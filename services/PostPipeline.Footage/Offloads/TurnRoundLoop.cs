using PostPipeline.Quantities;

namespace PostPipeline.Footage.Offloads;

/// <summary>
/// The short form of cards in rotation, only where cards return the same day: 1 + ⌈T_loop ÷ (T_card ÷ duty)⌉ +
/// spares, where stations can keep up at all. The simulated day is the answer; this is its check.
/// </summary>
public readonly record struct TurnRoundLoop
{
    private TurnRoundLoop(double loadPerStation, int cards) => (StationLoad, CardsPerCamera) = (loadPerStation, cards);

    /// <summary>Work brought to a station ÷ what it can do.</summary>
    public double StationLoad { get; }

    /// <summary>Cards a camera, spares included; meaningless where the stations never catch up.</summary>
    public int CardsPerCamera { get; }

    /// <summary>Whether the stations never catch up: refuse the count of cards and say so.</summary>
    public bool NeverCatchesUp => StationLoad >= 1;

    /// <summary>Works out the short form.</summary>
    /// <param name="cameras">Cameras that share the stations.</param>
    /// <param name="stations">Stations.</param>
    /// <param name="cardSeconds">Recorded seconds of a card.</param>
    /// <param name="duty">Recorded part of the time in the busiest two hours, above 0 to 1.</param>
    /// <param name="stationSeconds">Seconds that a card holds a station.</param>
    /// <param name="otherSeconds">Seconds of the loop that hold none: carrying, looking, queueing.</param>
    /// <param name="spares">Spare cards.</param>
    public static TurnRoundLoop Of(int cameras, int stations, double cardSeconds, double duty, double stationSeconds, double otherSeconds, int spares)
    {
        Guard.InRange(cameras, 1, 1000);
        Guard.InRange(stations, 1, OffloadMeans.MaximumStations);
        Guard.Finite(cardSeconds, 1e-3, 1e9);
        Guard.Finite(duty, 1e-9, 1);
        Guard.Finite(stationSeconds, 0, 1e9);
        Guard.Finite(otherSeconds, 0, 1e9);
        Guard.InRange(spares, 0, 1000);
        double clock = cardSeconds / duty;
        return new(cameras * stationSeconds / clock / stations, 1 + (int)Math.Ceiling((stationSeconds + otherSeconds) / clock) + spares);
    }

    /// <summary>Cards a camera with an overnight hold: pulled a day × (1 + nights) + spares.</summary>
    /// <param name="pulledPerDay">Cards pulled a day, 0 or more.</param>
    /// <param name="nights">Nights held.</param>
    /// <param name="spares">Spare cards.</param>
    public static int Held(int pulledPerDay, int nights, int spares) =>
        checked((Guard.InRange(pulledPerDay, 0, 10_000) * (1 + Guard.InRange(nights, 0, 366))) + Guard.InRange(spares, 0, 1000));
}
