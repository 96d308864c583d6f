using PostPipeline.Flows;

namespace PostPipeline.Farms;

/// <summary>
/// Something that stops the whole farm in a night and is not noticed until someone looks: running tasks are lost, and
/// nothing starts until the farm is attended.
/// </summary>
/// <param name="Nights">The nights, each an interval on the farm's clock.</param>
/// <param name="Probability">The probability for each night, 0 to 1; the instant is uniform within the night.</param>
public sealed record NightFailure(Windows Nights, double Probability);
