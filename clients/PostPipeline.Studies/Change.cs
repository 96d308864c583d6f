namespace PostPipeline.Studies;

/// <summary>A what-if change to one input, on every draw: its value times a factor, plus an amount, or a fixed value.</summary>
/// <param name="Input">The input's name.</param>
/// <param name="Value">The fixed value; null to keep the drawn one.</param>
/// <param name="Factor">What the value is multiplied by.</param>
/// <param name="Add">What is added then.</param>
public sealed record Change(string Input, double? Value = null, double Factor = 1, double Add = 0)
{
    /// <summary>The changed value.</summary>
    /// <param name="drawn">The drawn value.</param>
    public double Apply(double drawn) => ((Value ?? drawn) * Factor) + Add;

    /// <summary>Fixes an input.</summary>
    /// <param name="input">Its name.</param>
    /// <param name="value">Its value.</param>
    public static Change Fix(string input, double value) => new(input, value);

    /// <summary>Multiplies an input.</summary>
    /// <param name="input">Its name.</param>
    /// <param name="factor">The factor.</param>
    public static Change Scale(string input, double factor) => new(input, Factor: factor);

    /// <summary>Adds to an input.</summary>
    /// <param name="input">Its name.</param>
    /// <param name="amount">The amount.</param>
    public static Change Plus(string input, double amount) => new(input, Add: amount);
}
