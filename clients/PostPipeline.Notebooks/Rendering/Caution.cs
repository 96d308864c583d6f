namespace PostPipeline.Notebooks.Rendering;

/// <summary>A caution, set apart from the text around it.</summary>
/// <param name="Text">What to mind, and whose word counts.</param>
public sealed record Caution(string Text);
