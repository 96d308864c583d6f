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

    /// <summary>The axis title.</summary>
    public string Title => $"{Quantity} ({Unit})";
}
