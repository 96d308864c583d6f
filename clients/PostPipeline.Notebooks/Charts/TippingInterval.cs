namespace PostPipeline.Notebooks.Charts;

/// <summary>Where the preferred pipeline changes, with the interval in which sampling noise leaves it open.</summary>
/// <param name="Value">The tipping value, in the unit of the x axis.</param>
/// <param name="Low">The lower border of the open interval.</param>
/// <param name="High">The upper border of the open interval.</param>
/// <param name="Below">The pipeline preferred below.</param>
/// <param name="Above">The pipeline preferred above.</param>
public sealed record TippingInterval(double Value, double Low, double High, string Below, string Above);
