namespace PostPipeline.Studies;

/// <summary>Seconds per frame of one kind of work on the reference node, which is the brief's first node class.</summary>
/// <param name="Kind">transcode, proxy, pull, render-originals or render-mezzanine.</param>
/// <param name="Mode">The capture mode it reads; empty for finished frames.</param>
/// <param name="SecondsPerFrame">The median.</param>
/// <param name="ClassSpeeds">Speed of each node class of the brief against the reference node, for this work.</param>
/// <param name="LogDeviation">Standard deviation of the logarithm of the error that all work of the kind shares.</param>
/// <param name="ReadBytesPerFrame">Bytes read for a frame.</param>
/// <param name="WriteBytesPerFrame">Bytes written for a frame.</param>
/// <param name="OutsideMeasured">Whether the question lies outside what was measured.</param>
/// <param name="Notes">What the model says about its answer.</param>
public sealed record JobFacts(
    string Kind, string Mode, double SecondsPerFrame, IReadOnlyList<double> ClassSpeeds, double LogDeviation, long ReadBytesPerFrame, long WriteBytesPerFrame, bool OutsideMeasured, IReadOnlyList<string> Notes)
{
    /// <summary>Whether the figure rests on invented rows.</summary>
    public bool Invented { get; init; } = true;
}
