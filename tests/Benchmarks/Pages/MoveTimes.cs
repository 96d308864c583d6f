namespace PostPipeline.Benchmarks.Pages;

/// <summary>Milliseconds from a slider's release.</summary>
/// <param name="Heard">To the first new output in the page.</param>
/// <param name="FirstChart">To the first chart redrawn.</param>
/// <param name="LastChart">To the last chart redrawn.</param>
/// <param name="Cells">How long the cells ran in the serving process.</param>
internal sealed record MoveTimes(double Heard, double FirstChart, double LastChart, double Cells);
