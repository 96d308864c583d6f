using System.Globalization;

namespace PostPipeline.Quantities;

/// <summary>
/// Reads amounts as people write them in a brief: <c>512 GB</c>, <c>1.5 h</c>, <c>10 Gb/s</c>, <c>36 Mbit/s</c>.
/// A number without a unit is refused, because nobody can tell what it meant.
/// </summary>
public static class QuantityText
{
    private static readonly (string Unit, long Bytes)[] SizeUnits =
    [
        ("B", 1), ("kB", 1_000), ("MB", 1_000_000), ("GB", 1_000_000_000), ("TB", 1_000_000_000_000), ("PB", 1_000_000_000_000_000),
        ("KiB", 1L << 10), ("MiB", 1L << 20), ("GiB", 1L << 30), ("TiB", 1L << 40), ("PiB", 1L << 50),
    ];

    private static readonly (string Unit, long Bits)[] BitUnits =
    [
        ("b", 1), ("bit", 1), ("kb", 1_000), ("kbit", 1_000), ("Mb", 1_000_000), ("Mbit", 1_000_000),
        ("Gb", 1_000_000_000), ("Gbit", 1_000_000_000), ("Tb", 1_000_000_000_000), ("Tbit", 1_000_000_000_000),
    ];

    private static readonly (string Unit, Rational Seconds)[] TimeUnits =
    [
        ("ms", new(1, 1000)), ("s", 1), ("min", 60), ("h", 3600), ("d", 86_400), ("w", 604_800),
    ];

    /// <summary>Reads a size.</summary>
    /// <param name="text">A number, a space or none, and a unit from B to PB or KiB to PiB.</param>
    /// <param name="size">The size; a fraction of a byte is refused.</param>
    /// <param name="problem">What is wrong and what is allowed.</param>
    public static bool TryParseSize(ReadOnlySpan<char> text, out DataSize size, out string problem)
    {
        size = default;
        const string Allowed = "a number and a unit such as 512 GB (decimal) or 4 GiB (binary)";
        if (!TrySplit(text, Allowed, out Rational number, out string unit, out problem))
        {
            return false;
        }

        foreach ((string name, long bytes) in SizeUnits)
        {
            if (name != unit)
            {
                continue;
            }

            Int128 total = (Int128)number.Numerator * bytes;
            if (total < 0 || total / number.Denominator > long.MaxValue)
            {
                problem = $"'{text}' is out of range; allowed is 0 B to 9.2 EB";
                return false;
            }

            if (total % number.Denominator != 0)
            {
                problem = $"'{text}' is not a whole number of bytes";
                return false;
            }

            size = DataSize.FromBytes(total / number.Denominator);
            return true;
        }

        problem = $"'{text}' has no size unit; write {Allowed}";
        return false;
    }

    /// <summary>Reads a data rate in bytes or bits per second.</summary>
    /// <param name="text">A number and a unit such as MB/s, Gb/s or Mbit/s.</param>
    /// <param name="rate">The rate.</param>
    /// <param name="problem">What is wrong and what is allowed.</param>
    public static bool TryParseRate(ReadOnlySpan<char> text, out DataRate rate, out string problem)
    {
        rate = default;
        const string Allowed = "a number and a unit such as 450 MB/s (bytes) or 10 Gb/s (bits)";
        if (!TrySplit(text, Allowed, out Rational number, out string unit, out problem))
        {
            return false;
        }

        if (unit.EndsWith("/s", StringComparison.Ordinal) && number.Sign >= 0)
        {
            string amount = unit[..^2];
            foreach ((string name, long bytes) in SizeUnits)
            {
                if (name == amount)
                {
                    return TryScale(text, number, (Int128)bytes * 8, out rate, ref problem);
                }
            }

            foreach ((string name, long bits) in BitUnits)
            {
                if (name == amount)
                {
                    return TryScale(text, number, bits, out rate, ref problem);
                }
            }
        }

        problem = $"'{text}' is not a data rate; write {Allowed}";
        return false;
    }

    /// <summary>Reads a length of time.</summary>
    /// <param name="text">A number and one of ms, s, min, h, d (24 h), w (7 d).</param>
    /// <param name="seconds">Seconds, exact; zero or more.</param>
    /// <param name="problem">What is wrong and what is allowed.</param>
    public static bool TryParseTime(ReadOnlySpan<char> text, out Rational seconds, out string problem)
    {
        seconds = default;
        const string Allowed = "a number and one of ms, s, min, h, d, w, such as 1.5 h";
        if (!TrySplit(text, Allowed, out Rational number, out string unit, out problem))
        {
            return false;
        }

        foreach ((string name, Rational each) in TimeUnits)
        {
            if (name == unit)
            {
                if (number.Sign < 0)
                {
                    problem = $"'{text}' is negative; allowed is 0 or more";
                    return false;
                }

                Int128 scaled = (Int128)number.Numerator * each.Numerator;
                if (scaled > long.MaxValue)
                {
                    problem = $"'{text}' is out of range";
                    return false;
                }

                seconds = number * each;
                return true;
            }
        }

        problem = $"'{text}' is not a length of time; write {Allowed}";
        return false;
    }

    private static bool TryScale(ReadOnlySpan<char> text, Rational number, Int128 factor, out DataRate rate, ref string problem)
    {
        Int128 bits = number.Numerator * factor;
        if (bits / number.Denominator > long.MaxValue / 16)
        {
            rate = default;
            problem = $"'{text}' is out of range";
            return false;
        }

        rate = DataRate.FromBitsPerSecond(Rational.From(bits, number.Denominator));
        return true;
    }

    private static bool TrySplit(ReadOnlySpan<char> text, string allowed, out Rational number, out string unit, out string problem)
    {
        text = text.Trim();
        int end = 0;
        while (end < text.Length && (char.IsAsciiDigit(text[end]) || text[end] is '.' or '/' or '-' or '+'))
        {
            end++;
        }

        unit = text[end..].Trim().ToString();
        problem = string.Empty;
        if (Rational.TryParse(text[..end], out number))
        {
            return true;
        }

        problem = string.Create(CultureInfo.InvariantCulture, $"'{text}' does not start with a number; write {allowed}");
        return false;
    }
}
