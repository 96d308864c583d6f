namespace PostPipeline.Footage.Offloads;

/// <summary>Seconds that one card takes at a station.</summary>
/// <param name="CopySeconds">Reading once and writing all destinations that hang on the card, files' cost included.</param>
/// <param name="VerifySeconds">Checking those.</param>
/// <param name="CascadeCopySeconds">Writing the others from the first destination; the reader is free meanwhile.</param>
/// <param name="CascadeVerifySeconds">Checking those.</param>
public readonly record struct CardTimes(double CopySeconds, double VerifySeconds, double CascadeCopySeconds, double CascadeVerifySeconds)
{
    /// <summary>Seconds that the card holds its station.</summary>
    public double StationSeconds => CopySeconds + VerifySeconds;

    /// <summary>Seconds until every copy is checked, if nothing waits.</summary>
    public double TotalSeconds => StationSeconds + CascadeCopySeconds + CascadeVerifySeconds;
}
