namespace PostPipeline.RenderTimes;

/// <summary>The rows do not make a model that deserves trust; the message says why.</summary>
/// <param name="message">Why.</param>
public sealed class TrainingRefusedException(string message) : Exception(message);
