namespace PostPipeline.Notebooks.Runs;

/// <summary>How long a part of a run took.</summary>
/// <param name="Part">What: "start", or "cell 3".</param>
/// <param name="Seconds">From the part before it to its end.</param>
/// <param name="CompilingSeconds">Of that, compilation of program code to machine code by the runtime (on one thread or several; not the compiling of the cell's own C#).</param>
public sealed record PartTime(string Part, double Seconds, double CompilingSeconds);
