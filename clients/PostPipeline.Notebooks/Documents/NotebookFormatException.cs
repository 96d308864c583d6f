namespace PostPipeline.Notebooks.Documents;

/// <summary>A file is not a notebook that can be read; the message says what is wrong and what is allowed.</summary>
/// <param name="message">What is wrong.</param>
public sealed class NotebookFormatException(string message) : Exception(message);
