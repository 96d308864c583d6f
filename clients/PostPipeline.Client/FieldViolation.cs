namespace PostPipeline.Client;

/// <summary>What is wrong with one field of a request.</summary>
/// <param name="Field">The path, such as <c>cameras[2].frame_rate.denominator</c>; empty where the request as a whole is meant.</param>
/// <param name="Problem">The value and what is allowed.</param>
public readonly record struct FieldViolation(string Field, string Problem)
{
    /// <summary>Field and problem in one line.</summary>
    public override string ToString() => Field.Length == 0 ? Problem : $"{Field} {Problem}";
}
