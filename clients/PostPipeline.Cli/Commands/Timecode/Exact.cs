using System.Globalization;
using PostPipeline.Quantities;
using WireRational = PostPipeline.Contracts.Types.V1.Rational;

namespace PostPipeline.Cli.Commands.Timecode;

/// <summary>An exact number, and the nearest decimal to read it by.</summary>
/// <param name="Fraction"><c>18/5</c>.</param>
/// <param name="Decimal">3.6.</param>
internal sealed record Exact(string Fraction, double Decimal)
{
    public static Exact From(WireRational value) => From(new Rational(value.Numerator, value.Denominator));

    public static Exact From(Rational value) => new(value.ToString(), value.ToDouble());

    /// <summary><c>3.6</c>, and the fraction beside it where the decimal is not finite or long.</summary>
    public override string ToString()
    {
        string text = Decimal.ToString("0.######", CultureInfo.InvariantCulture);
        bool exact = Rational.TryParse(text, out Rational shown) && shown.ToString() == Fraction;
        return exact ? text : $"{text} ({Fraction})";
    }
}
