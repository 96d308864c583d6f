namespace PostPipeline.Notebooks.Charts;

/// <summary>What an axis measures and in which unit; no axis is drawn without both.</summary>
public sealed record Axis
{
    /// <summary>An axis.</summary>
    /// <param name="quantity">What is measured, for example "Occupied".</param>
    /// <param name="unit">The unit, for example "TB"; "calendar date" and "count" are units too.</param>
    /// <exception cref="ArgumentException">Either is empty.</exception>
    public Axis(string quantity, string unit)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(quantity);
        ArgumentException.ThrowIfNullOrWhiteSpace(unit);
        Quantity = quantity;
        Unit = unit;
    }

    /// <summary>What is measured.</summary>
    public string Quantity { get; }

    /// <summary>The unit.</summary>
    public string Unit { get; }

    /// <summary>Whether it counts whole things, so that ticks stand at whole numbers.</summary>
    public bool IsCount => Unit == "count";

    /// <summary>Whether it is a probability in per cent.</summary>
    public bool IsProbability => Unit == "%" && Quantity.StartsWith("P(", StringComparison.Ordinal);

    /// <summary>The axis title.</summary>
    public string Title => $"{Quantity} ({Unit})";

    /// <summary>A value on it, as people read it: a count with what is counted, a probability never as none or all.</summary>
    /// <param name="value">In the unit of the axis.</param>
    public string Read(double value) => IsCount
        ? $"{Say.Number(value)} {char.ToLowerInvariant(Quantity[0])}{Quantity[1..]}"
        : IsProbability ? Say.Probability(value / 100) : Say.Number(value, Unit);
}
