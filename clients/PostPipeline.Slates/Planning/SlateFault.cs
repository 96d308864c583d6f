namespace PostPipeline.Slates.Planning;

/// <summary>One thing that is wrong with a slate.</summary>
/// <param name="Field">Where, such as <c>projects[River].options[proxy].stages[conform].after</c>.</param>
/// <param name="Message">What stands there and what is allowed.</param>
public sealed record SlateFault(string Field, string Message)
{
    /// <inheritdoc />
    public override string ToString() => $"{Field}: {Message}";
}
