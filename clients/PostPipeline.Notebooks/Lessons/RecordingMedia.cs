namespace PostPipeline.Notebooks.Lessons;

/// <summary>What is written to, and the buffer before it, as sliders give it.</summary>
/// <param name="CardGigabytes">Capacity, GB.</param>
/// <param name="RatedMegabytesPerSecond">The rating, MB/s written.</param>
/// <param name="Trust">The share of the rating that is trusted, 0 to 1.</param>
/// <param name="BufferGigabytes">The buffer, GB; 0 for none.</param>
/// <param name="TriggerPosition">0: the window starts at the press; 1: it ends there.</param>
/// <param name="Drains">"while recording", "only after" or "unknown".</param>
/// <param name="ResetSeconds">Seconds from an empty buffer until ready.</param>
public sealed record RecordingMedia(double CardGigabytes, double RatedMegabytesPerSecond, double Trust, double BufferGigabytes, double TriggerPosition, string Drains, double ResetSeconds = 5);
