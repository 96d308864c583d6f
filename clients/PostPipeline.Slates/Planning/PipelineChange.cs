namespace PostPipeline.Slates.Planning;

/// <summary>A project that takes another pipeline.</summary>
/// <param name="Project">The project.</param>
/// <param name="From">Its pipeline before.</param>
/// <param name="To">Its pipeline after.</param>
/// <param name="Money">What that costs more; below 0 where it costs less.</param>
public sealed record PipelineChange(string Project, string From, string To, long Money);
