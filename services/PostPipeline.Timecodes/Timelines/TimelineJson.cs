using System.Text.Json;
using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.Timelines;

/// <summary>Reads the small parts of an OpenTimelineIO document and never throws on what it finds there.</summary>
internal static class TimelineJson
{
    /// <summary>No time of a timeline is longer, in its own frames.</summary>
    public const long MostFrames = 1_000_000_000;

    private const long LargestDenominator = 1_000_000;

    private static readonly FrameRate[] KnownRates =
    [
        FrameRate.From(24000, 1001), FrameRate.From(30000, 1001), FrameRate.From(48000, 1001), FrameRate.From(60000, 1001), FrameRate.From(120000, 1001),
    ];

    /// <summary>A property, or nothing.</summary>
    public static JsonElement? Property(JsonElement element, string name) =>
        element.ValueKind == JsonValueKind.Object && element.TryGetProperty(name, out JsonElement value) && value.ValueKind != JsonValueKind.Null ? value : null;

    /// <summary>A text; empty where there is none.</summary>
    public static string Text(JsonElement element, string name)
    {
        if (Property(element, name) is not { ValueKind: JsonValueKind.String } value)
        {
            return string.Empty;
        }

        try
        {
            return value.GetString() ?? string.Empty;
        }
        catch (InvalidOperationException)
        {
            // Half of a surrogate pair written as an escape is no text.
            return string.Empty;
        }
    }

    /// <summary>The schema without its version: Clip for Clip.2.</summary>
    public static string Schema(JsonElement element)
    {
        string schema = Text(element, "OTIO_SCHEMA");
        int point = schema.IndexOf('.', StringComparison.Ordinal);
        return point < 0 ? schema : schema[..point];
    }

    /// <summary>A rational time in seconds, with the rate in which it was written.</summary>
    public static bool TryTime(JsonElement? element, out Rational seconds, out FrameRate rate)
    {
        seconds = Rational.Zero;
        rate = FrameRate.Fps24;
        if (element is not { } time || Number(time, "value") is not { } value || Number(time, "rate") is not { } perSecond
            || !(Math.Abs(value) <= MostFrames) || !(perSecond is > 0.001 and <= 100_000))
        {
            return false;
        }

        try
        {
            rate = RateOf(perSecond);
            seconds = Nearest(value) / rate.FramesPerSecond;
            return true;
        }
        catch (OverflowException)
        {
            return false;
        }
    }

    /// <summary>A time range in seconds.</summary>
    public static bool TryRange(JsonElement? element, out Rational start, out Rational duration, out FrameRate rate)
    {
        start = Rational.Zero;
        duration = Rational.Zero;
        rate = FrameRate.Fps24;
        return element is { } range && TryTime(Property(range, "start_time"), out start, out rate)
            && TryTime(Property(range, "duration"), out duration, out _) && duration.Sign >= 0;
    }

    /// <summary>A number, or nothing.</summary>
    public static double? Number(JsonElement element, string name) =>
        Property(element, name) is { ValueKind: JsonValueKind.Number } value && value.TryGetDouble(out double number) && double.IsFinite(number) ? number : null;

    /// <summary>The fraction nearest to a number, with a denominator up to a million: times are doubles in these files.</summary>
    public static Rational Nearest(double number)
    {
        if (Math.Abs(number - Math.Round(number)) < 1e-6)
        {
            return (long)Math.Round(number);
        }

        // Continued fractions give the best approximation for every size of denominator.
        double rest = Math.Abs(number);
        (long n0, long d0, long n1, long d1) = (0, 1, 1, 0);
        for (int i = 0; i < 40; i++)
        {
            double whole = Math.Floor(rest);
            double nextDenominator = (whole * d1) + d0;
            double nextNumerator = (whole * n1) + n0;
            if (nextDenominator > LargestDenominator || nextNumerator > long.MaxValue / 4.0)
            {
                break;
            }

            (n0, d0, n1, d1) = (n1, d1, (long)nextNumerator, (long)nextDenominator);
            if (rest - whole < 1e-12)
            {
                break;
            }

            rest = 1 / (rest - whole);
        }

        return new(number < 0 ? -n1 : n1, d1);
    }

    private static FrameRate RateOf(double perSecond)
    {
        foreach (FrameRate known in KnownRates)
        {
            // 23.976, 23.98 and 23.976023976 all stand for 24000/1001 in a format that knows decimals only.
            if (Math.Abs(perSecond - known.FramesPerSecond.ToDouble()) < 0.005)
            {
                return known;
            }
        }

        return FrameRate.From(Nearest(perSecond));
    }

}
