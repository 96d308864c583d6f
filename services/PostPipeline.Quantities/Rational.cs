using System.Globalization;

namespace PostPipeline.Quantities;

/// <summary>
/// An exact fraction of two 64-bit integers, always reduced, with a positive denominator, so that equality
/// is numeric. Frame rates and times on a timeline are fractions (1001/30000 s has no finite decimal), and a
/// result that is a little off is off by a frame.
/// </summary>
/// <remarks>
/// Products are formed in 128 bits; a reduced result that does not fit 64 bits throws
/// <see cref="OverflowException"/>. <c>default</c> is zero.
/// </remarks>
public readonly record struct Rational : IComparable<Rational>
{
    private readonly long denominatorLessOne;

    /// <summary>Zero.</summary>
    public static readonly Rational Zero;

    /// <summary>One.</summary>
    public static readonly Rational One = new(1, 1);

    /// <summary>Creates numerator/denominator in lowest terms.</summary>
    /// <param name="numerator">Any 64-bit integer.</param>
    /// <param name="denominator">Any 64-bit integer but zero.</param>
    /// <exception cref="ArgumentOutOfRangeException">The denominator is zero.</exception>
    /// <exception cref="OverflowException">The reduced fraction does not fit.</exception>
    public Rational(long numerator, long denominator)
        : this(Reduce(numerator, denominator))
    {
    }

    private Rational((long Numerator, long Denominator) reduced)
    {
        Numerator = reduced.Numerator;
        denominatorLessOne = reduced.Denominator - 1;
    }

    /// <summary>The numerator in lowest terms; it carries the sign.</summary>
    public long Numerator { get; }

    /// <summary>The denominator in lowest terms, at least one.</summary>
    public long Denominator => denominatorLessOne + 1;

    /// <summary>Whether the value is a whole number.</summary>
    public bool IsInteger => denominatorLessOne == 0;

    /// <summary>-1, 0 or 1.</summary>
    public int Sign => Math.Sign(Numerator);

    /// <summary>Adds exactly.</summary>
    public static Rational operator +(Rational a, Rational b) =>
        From(((Int128)a.Numerator * b.Denominator) + ((Int128)b.Numerator * a.Denominator), (Int128)a.Denominator * b.Denominator);

    /// <summary>Subtracts exactly.</summary>
    public static Rational operator -(Rational a, Rational b) =>
        From(((Int128)a.Numerator * b.Denominator) - ((Int128)b.Numerator * a.Denominator), (Int128)a.Denominator * b.Denominator);

    /// <summary>Negates.</summary>
    public static Rational operator -(Rational a) => From(-(Int128)a.Numerator, a.Denominator);

    /// <summary>Multiplies exactly.</summary>
    public static Rational operator *(Rational a, Rational b) =>
        From((Int128)a.Numerator * b.Numerator, (Int128)a.Denominator * b.Denominator);

    /// <summary>Divides exactly.</summary>
    /// <exception cref="DivideByZeroException">The divisor is zero.</exception>
    public static Rational operator /(Rational a, Rational b) =>
        b.Numerator == 0
            ? throw new DivideByZeroException("A fraction was divided by zero.")
            : From((Int128)a.Numerator * b.Denominator, (Int128)a.Denominator * b.Numerator);

    /// <summary>Compares numerically.</summary>
    public static bool operator <(Rational a, Rational b) => a.CompareTo(b) < 0;

    /// <summary>Compares numerically.</summary>
    public static bool operator >(Rational a, Rational b) => a.CompareTo(b) > 0;

    /// <summary>Compares numerically.</summary>
    public static bool operator <=(Rational a, Rational b) => a.CompareTo(b) <= 0;

    /// <summary>Compares numerically.</summary>
    public static bool operator >=(Rational a, Rational b) => a.CompareTo(b) >= 0;

    /// <summary>A whole number is a fraction over one.</summary>
    public static implicit operator Rational(long value) => FromInteger(value);

    /// <summary>A whole number as a fraction over one.</summary>
    /// <param name="value">Any 64-bit integer.</param>
    public static Rational FromInteger(long value) => new((value, 1L));

    /// <summary>A fraction that is known to be in lowest terms with a positive denominator; nothing is reduced again.</summary>
    internal static Rational FromReduced(long numerator, long denominator) => new((numerator, denominator));

    /// <summary>Reduces a fraction of 128-bit integers.</summary>
    /// <param name="numerator">Any value.</param>
    /// <param name="denominator">Any value but zero.</param>
    /// <exception cref="OverflowException">The reduced fraction does not fit 64 bits.</exception>
    public static Rational From(Int128 numerator, Int128 denominator)
    {
        if (denominator == 0)
        {
            throw new ArgumentOutOfRangeException(nameof(denominator), 0, "The denominator is 0; allowed is any other whole number.");
        }

        if (denominator < 0)
        {
            (numerator, denominator) = (-numerator, -denominator);
        }

        Int128 divisor = GreatestCommonDivisor(Int128.Abs(numerator), denominator);
        return new((checked((long)(numerator / divisor)), checked((long)(denominator / divisor))));
    }

    /// <summary>Reads <c>24000/1001</c>, <c>25</c> or a finite decimal such as <c>0.35</c>, exactly.</summary>
    /// <param name="text">The text; no spaces inside.</param>
    /// <param name="value">The fraction, or zero.</param>
    /// <returns>Whether the text is a fraction that fits.</returns>
    public static bool TryParse(ReadOnlySpan<char> text, out Rational value)
    {
        value = Zero;
        text = text.Trim();
        int slash = text.IndexOf('/');
        if (slash >= 0)
        {
            if (!long.TryParse(text[..slash], NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out long n)
                || !long.TryParse(text[(slash + 1)..], NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out long d)
                || d == 0 || n == long.MinValue || d == long.MinValue)
            {
                return false;
            }

            value = new(n, d);
            return true;
        }

        int point = text.IndexOf('.');
        int decimals = point < 0 ? 0 : text.Length - point - 1;
        if (decimals > 17 || text.Length == 0 || (point >= 0 && decimals == 0))
        {
            return false;
        }

        if (!decimal.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out decimal parsed))
        {
            return false;
        }

        // A decimal is a 96-bit whole number over a power of ten, both exact.
        Span<int> words = stackalloc int[4];
        decimal.GetBits(parsed, words);
        Int128 mantissa = unchecked((Int128)new UInt128((uint)words[2], ((ulong)(uint)words[1] << 32) | (uint)words[0]));
        Int128 scale = 1;
        for (int i = (words[3] >> 16) & 0xFF; i > 0; i--)
        {
            scale *= 10;
        }

        try
        {
            value = From(parsed < 0 ? -mantissa : mantissa, scale);
            return true;
        }
        catch (OverflowException)
        {
            return false;
        }
    }

    /// <summary>The largest whole number not above the value.</summary>
    public long Floor() => Numerator >= 0 || IsInteger ? Numerator / Denominator : (Numerator / Denominator) - 1;

    /// <summary>The smallest whole number not below the value.</summary>
    public long Ceiling() => Numerator <= 0 || IsInteger ? Numerator / Denominator : (Numerator / Denominator) + 1;

    /// <summary>The nearest whole number; halves go away from zero.</summary>
    public long RoundHalfAwayFromZero()
    {
        Int128 twice = (Int128.Abs(Numerator) * 2) + Denominator;
        long magnitude = checked((long)(twice / ((Int128)Denominator * 2)));
        return Numerator < 0 ? -magnitude : magnitude;
    }

    /// <summary>The nearest double, for estimates and for print.</summary>
    public double ToDouble() => (double)Numerator / Denominator;

    /// <inheritdoc/>
    public int CompareTo(Rational other) =>
        ((Int128)Numerator * other.Denominator).CompareTo((Int128)other.Numerator * Denominator);

    /// <summary><c>24000/1001</c>, or <c>25</c> for a whole number.</summary>
    public override string ToString() => IsInteger ? $"{Numerator}" : $"{Numerator}/{Denominator}";

    private static (long Numerator, long Denominator) Reduce(long numerator, long denominator)
    {
        Rational value = From(numerator, denominator);
        return (value.Numerator, value.Denominator);
    }

    private static Int128 GreatestCommonDivisor(Int128 a, Int128 b)
    {
        while (b != 0)
        {
            // Most fractions here are small; 64-bit division is several times faster than 128-bit.
            if (a <= long.MaxValue && b <= long.MaxValue)
            {
                long x = (long)a;
                long y = (long)b;
                while (y != 0)
                {
                    (x, y) = (y, x % y);
                }

                return x;
            }

            (a, b) = (b, a % b);
        }

        return a;
    }
}
