namespace PostPipeline.Hosting.Validation;

/// <summary>One thing that is wrong with one field of a request.</summary>
/// <param name="Field">The path, such as <c>cameras[2].frame_rate.denominator</c>.</param>
/// <param name="Problem">The value and what is allowed: <c>is 0; allowed is 1 or more</c>.</param>
public readonly record struct Violation(string Field, string Problem)
{
    /// <summary><c>cameras[2].frame_rate.denominator is 0; allowed is 1 or more</c>.</summary>
    public override string ToString() => Field.Length == 0 ? Problem : $"{Field} {Problem}";
}
