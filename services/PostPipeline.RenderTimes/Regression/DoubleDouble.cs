namespace PostPipeline.RenderTimes.Regression;

/// <summary>
/// A number as the unevaluated sum of two doubles, about 32 significant digits. It serves the residuals of an
/// iterative refinement, which must be more accurate than the solution that they correct.
/// </summary>
/// <remarks>
/// Error-free sums after Knuth (The Art of Computer Programming 2, 4.2.2) and products by fused multiply-add;
/// the arithmetic is that of Dekker, A Floating-Point Technique for Extending the Available Precision,
/// Numerische Mathematik 18, 1971.
/// </remarks>
/// <param name="High">The value rounded to a double.</param>
/// <param name="Low">What the rounding left over.</param>
internal readonly record struct DoubleDouble(double High, double Low)
{
    /// <summary>Zero.</summary>
    public static DoubleDouble Zero => default;

    /// <summary>A double, exactly.</summary>
    /// <param name="value">The value.</param>
    public static implicit operator DoubleDouble(double value) => new(value, 0);

    /// <summary>Sum.</summary>
    /// <param name="a">First term.</param>
    /// <param name="b">Second term.</param>
    public static DoubleDouble operator +(DoubleDouble a, DoubleDouble b)
    {
        double sum = a.High + b.High;
        double part = sum - a.High;
        double error = (a.High - (sum - part)) + (b.High - part);
        return Normalize(sum, error + a.Low + b.Low);
    }

    /// <summary>Negation.</summary>
    /// <param name="a">The value.</param>
    public static DoubleDouble operator -(DoubleDouble a) => new(-a.High, -a.Low);

    /// <summary>Difference.</summary>
    /// <param name="a">What is subtracted from.</param>
    /// <param name="b">What is subtracted.</param>
    public static DoubleDouble operator -(DoubleDouble a, DoubleDouble b) => a + (-b);

    /// <summary>Product.</summary>
    /// <param name="a">First factor.</param>
    /// <param name="b">Second factor.</param>
    public static DoubleDouble operator *(DoubleDouble a, DoubleDouble b)
    {
        double product = a.High * b.High;
        double error = Math.FusedMultiplyAdd(a.High, b.High, -product);
        return Normalize(product, error + (a.High * b.Low) + (a.Low * b.High));
    }

    /// <summary>Quotient.</summary>
    /// <param name="a">Dividend.</param>
    /// <param name="b">Divisor, not zero.</param>
    public static DoubleDouble operator /(DoubleDouble a, DoubleDouble b)
    {
        double first = a.High / b.High;
        DoubleDouble rest = a - (b * first);
        double second = rest.High / b.High;
        rest -= b * second;
        return Normalize(first, second) + (rest.High / b.High);
    }

    private static DoubleDouble Normalize(double high, double low)
    {
        double sum = high + low;
        return new(sum, low - (sum - high));
    }
}
