namespace PostPipeline.Notebooks.Lessons;

/// <summary>A card and the means that copy it, as sliders give them. Rates are megabytes per second (10⁶ B).</summary>
/// <param name="CardGigabytes">Bytes on the card, GB.</param>
/// <param name="Reader">Rate at which the card is read.</param>
/// <param name="First">Rate of the first destination.</param>
/// <param name="Second">Rate of the second destination.</param>
/// <param name="Third">Rate of the third destination.</param>
/// <param name="Stations">Stations side by side.</param>
/// <param name="Cards">Cards that come in together at wrap.</param>
public sealed record OffloadBench(double CardGigabytes, double Reader, double First, double Second, double Third, int Stations, int Cards);
