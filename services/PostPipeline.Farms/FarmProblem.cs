namespace PostPipeline.Farms;

/// <summary>Something in a scenario that cannot be.</summary>
/// <param name="Path">The field, in the form jobs[2].segment_frames.</param>
/// <param name="Message">The value and what is allowed.</param>
public sealed record FarmProblem(string Path, string Message);
