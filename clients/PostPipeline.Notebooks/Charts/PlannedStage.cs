namespace PostPipeline.Notebooks.Charts;

/// <summary>One stage of a planned project.</summary>
/// <param name="Name">The stage.</param>
/// <param name="Work">What does it: the same word has the same colour in every project.</param>
/// <param name="Start">When it starts.</param>
/// <param name="End">When it ends.</param>
public sealed record PlannedStage(string Name, string Work, DateTime Start, DateTime End);
