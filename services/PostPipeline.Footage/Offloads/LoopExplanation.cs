using PostPipeline.Quantities;

namespace PostPipeline.Footage.Offloads;

/// <summary>The tree behind cards in rotation by the short form.</summary>
public static class LoopExplanation
{
    /// <summary>Explains a loop.</summary>
    /// <param name="loop">The answer.</param>
    /// <param name="cameras">Cameras that share the stations.</param>
    /// <param name="stations">Stations.</param>
    /// <param name="cardSeconds">Recorded seconds of a card.</param>
    /// <param name="duty">Recorded part of the time.</param>
    /// <param name="stationSeconds">Seconds that a card holds a station.</param>
    /// <param name="otherSeconds">Seconds of the loop that hold none.</param>
    /// <param name="spares">Spare cards.</param>
    public static Derivation Of(TurnRoundLoop loop, int cameras, int stations, double cardSeconds, double duty, double stationSeconds, double otherSeconds, int spares)
    {
        Derivation lasts = Derivation.Input("clock time of a card = recorded time ÷ duty", (cardSeconds / duty).ToString("0.###"), "s");
        Derivation load = new()
        {
            Name = "station load",
            Formula = "cameras × time at a station ÷ clock time of a card ÷ stations",
            Substituted = $"{cameras} × {stationSeconds:0.###} ÷ {cardSeconds / duty:0.###} ÷ {stations}",
            Value = loop.StationLoad.ToString("0.####"),
            Inputs = [lasts],
        };
        return new()
        {
            Name = "cards a camera",
            Formula = loop.NeverCatchesUp ? "none: from a load of 1 the stations never catch up" : "1 + ⌈loop ÷ clock time of a card⌉ + spares",
            Substituted = $"1 + ⌈({stationSeconds:0.###} + {otherSeconds:0.###}) ÷ {cardSeconds / duty:0.###}⌉ + {spares}",
            Value = loop.NeverCatchesUp ? "none" : loop.CardsPerCamera.ToString(),
            Source = "common practice, no source",
            Margin = spares > 0 ? "spare cards" : string.Empty,
            BindingLimit = loop.NeverCatchesUp ? "station load" : stationSeconds >= otherSeconds ? "time at a station" : "time away from the stations",
            NextLimit = loop.NeverCatchesUp ? "time at a station" : stationSeconds >= otherSeconds ? "time away from the stations" : "time at a station",
            Inputs = [load, lasts],
        };
    }
}
