using PostPipeline.Contracts.Types.V1;
using PostPipeline.Notebooks.Rendering;
using Text = PostPipeline.Contracts.Types.V1.Derivation;

namespace PostPipeline.Notebooks.Lessons;

/// <summary>Between slider values and messages.</summary>
internal static class Wire
{
    /// <summary>A slider's value as a fraction of thousandths: sliders have steps, so nothing is lost.</summary>
    public static Rational Thousandths(double value)
    {
        Quantities.Rational exact = new(checked((long)Math.Round(value * 1000)), 1000);
        return new() { Numerator = exact.Numerator, Denominator = exact.Denominator };
    }

    public static FrameRate Rate(double perSecond)
    {
        Rational exact = Thousandths(perSecond);
        return new() { Numerator = exact.Numerator, Denominator = exact.Denominator };
    }

    public static Rational Whole(long value) => new() { Numerator = value, Denominator = 1 };

    public static double Of(Rational value) => value.Denominator == 0 ? 0 : (double)value.Numerator / value.Denominator;

    /// <summary>The tree behind a number, as cells show it.</summary>
    public static Rendering.Derivation Tree(Text text) => new(
        text.Name,
        text.Unit.Length == 0 ? text.Value : $"{text.Value} {text.Unit}",
        text.Substituted.Length > 0 ? $"{text.Formula} = {text.Substituted}" : text.Formula,
        string.Join("; ", new[] { text.Source, text.Known == Known.Unspecified ? string.Empty : text.Known.ToString().ToLowerInvariant(), text.Margin.Length > 0 ? "margin: " + text.Margin : string.Empty }.Where(part => part.Length > 0)),
        [.. text.Inputs.Select(Tree)]);
}
