using PostPipeline.Quantities;

namespace PostPipeline.Footage.Seats;

/// <summary>The tree behind a seat.</summary>
public static class SeatExplanation
{
    /// <summary>Explains a check.</summary>
    /// <param name="check">The check.</param>
    /// <param name="layers">Layers or angles.</param>
    /// <param name="rate">Frames a second of the timeline.</param>
    public static Derivation Of(SeatCheck check, int layers, FrameRate rate) => new()
    {
        Name = "reserve",
        Formula = "measured ÷ (layers × frames a second); comfortable from 1.5, tight from 1",
        Substituted = check.MeasuredFramesPerSecond is { } measured ? $"{measured.ToDouble():0.###} ÷ ({layers} × {rate})" : $"not measured ÷ ({layers} × {rate})",
        Value = check.Reserve?.ToDouble().ToString("0.###") ?? "not measured",
        Source = "common practice, no source",
        BindingLimit = check.AvailableBytes < check.MemoryBytes ? "memory for decoded frames" : "decoding as measured",
        NextLimit = check.AvailableBytes < check.MemoryBytes ? "decoding as measured" : check.AvailableBytes is null ? string.Empty : "memory for decoded frames",
        Inputs =
        [
            Derivation.Input("needed", check.NeededFramesPerSecond.ToString(), "1/s"),
            Derivation.Input("measured", check.MeasuredFramesPerSecond?.ToString() ?? "not measured", "1/s", known: check.MeasuredFramesPerSecond is null ? Known.Unspecified : Known.Measured),
            Derivation.Input("memory for decoded frames", check.MemoryBytes.ToString(), "B"),
        ],
    };
}
