namespace PostPipeline.RenderTimes;

/// <summary>What is wrong with a value and what is allowed.</summary>
/// <param name="Field">The path of the field, for example <c>rows[12].frames</c>.</param>
/// <param name="Description">The value and what is allowed.</param>
public readonly record struct RowViolation(string Field, string Description);
