namespace PostPipeline.Notebooks.Parameters;

/// <summary>A parameter was declared or set wrongly; the message names it, the value, and what is allowed.</summary>
/// <param name="message">What is wrong.</param>
public sealed class ParameterException(string message) : Exception(message);
