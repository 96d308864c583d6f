namespace PostPipeline.Timecodes.Manifests;

/// <summary>Why a part of a manifest was not understood.</summary>
/// <param name="Line">From 1.</param>
/// <param name="Column">From 1.</param>
/// <param name="Message">What was found and what is allowed.</param>
public readonly record struct ManifestProblem(int Line, int Column, string Message)
{
    /// <summary><c>line 3, column 1: …</c></summary>
    public override string ToString() => $"line {Line}, column {Column}: {Message}";
}
