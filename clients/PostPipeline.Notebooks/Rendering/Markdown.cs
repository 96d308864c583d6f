namespace PostPipeline.Notebooks.Rendering;

/// <summary>Text in Markdown, for a cell that wants to say something with numbers in it.</summary>
/// <param name="Text">CommonMark; HTML in it is shown as text.</param>
public sealed record Markdown(string Text);
