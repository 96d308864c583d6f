using PostPipeline.Quantities;

namespace PostPipeline.Footage.Stores;

/// <summary>The tree behind what an array must give.</summary>
public static class DemandExplanation
{
    /// <summary>Explains a demand.</summary>
    /// <param name="demand">The demand.</param>
    public static Derivation Of(ArrayDemand demand) => new()
    {
        Name = "rated need",
        Formula = "demand ÷ headroom",
        Substituted = $"{demand.Demand.BytesPerSecond} ÷ {ArrayDemand.DefaultHeadroom}",
        Value = demand.Rated.BytesPerSecond.ToDouble().ToString("0"),
        Unit = "B/s",
        Source = "common practice, no source; held against a measurement with that many concurrent readers",
        Margin = "headroom of the link or array",
        Inputs =
        [
            new()
            {
                Name = "demand", Formula = "Σ seats × streams × rate × simultaneity + everything else", Value = demand.Demand.BytesPerSecond.ToDouble().ToString("0"), Unit = "B/s",
                Inputs =
                [
                    .. demand.Seats.Select(s => Derivation.Input($"{s.Count} seats × {s.Streams} streams × {s.Simultaneity}", s.Rate.BytesPerSecond.ToDouble().ToString("0"), "B/s")),
                    .. demand.Others.Select(o => Derivation.Input(o.Name, o.Rate.BytesPerSecond.ToDouble().ToString("0"), "B/s")),
                ],
            },
        ],
    };
}
