using System.Globalization;

namespace PostPipeline.Studies.Printing;

/// <summary>
/// How numbers are printed, for all clients: never more than three significant digits on an estimate, exact bytes and
/// frames in full, never 0 % or 100 %.
/// </summary>
public static class Numbers
{
    /// <summary>At most three significant digits, thousands separated by a comma, no exponent between a thousandth and a million millions.</summary>
    /// <param name="value">Any number.</param>
    public static string Three(double value)
    {
        if (!double.IsFinite(value))
        {
            return double.IsNaN(value) ? "unknown" : value > 0 ? "without limit" : "−without limit";
        }

        double size = Math.Abs(value);
        if (size == 0)
        {
            return "0";
        }

        int digits = 2 - (int)Math.Floor(Math.Log10(size));
        double rounded = digits >= 0 && digits <= 15
            ? Math.Round(value, digits, MidpointRounding.AwayFromZero)
            : digits < 0 ? Math.Round(value / Math.Pow(10, -digits), MidpointRounding.AwayFromZero) * Math.Pow(10, -digits) : value;
        string text = size is < 0.001 or >= 1e12
            ? rounded.ToString("0.##e+0", CultureInfo.InvariantCulture)
            : rounded.ToString(digits > 0 ? "#,0." + new string('#', Math.Min(digits, 9)) : "#,0", CultureInfo.InvariantCulture);
        return text.Replace('-', '−');
    }

    /// <summary>A size in decimal units, three digits.</summary>
    /// <param name="bytes">Bytes.</param>
    public static string Size(double bytes) => !double.IsFinite(bytes) ? Three(bytes) : Math.Abs(bytes) switch
    {
        >= 1e15 => $"{Three(bytes / 1e15)} PB",
        >= 1e12 => $"{Three(bytes / 1e12)} TB",
        >= 1e9 => $"{Three(bytes / 1e9)} GB",
        >= 1e6 => $"{Three(bytes / 1e6)} MB",
        _ => $"{Exact((long)Math.Round(bytes))} B",
    };

    /// <summary>A data rate, three digits; the caller says whether it is read or written.</summary>
    /// <param name="bytesPerSecond">Bytes per second.</param>
    public static string Rate(double bytesPerSecond) => $"{Three(bytesPerSecond / 1e6)} MB/s";

    /// <summary>An exact count with all its digits.</summary>
    /// <param name="count">Bytes, frames, files.</param>
    public static string Exact(long count) => count.ToString("#,0", CultureInfo.InvariantCulture).Replace('-', '−');

    /// <summary>A probability in whole per cent; never 0 % or 100 %.</summary>
    /// <param name="share">0 to 1.</param>
    public static string Percent(double share) => share switch
    {
        < 0.01 => "<1 %",
        > 0.99 => ">99 %",
        _ => string.Create(CultureInfo.InvariantCulture, $"{Math.Round(share * 100, MidpointRounding.AwayFromZero):0} %"),
    };

    /// <summary>A probability with its sampling error: the digit that the draws cannot tell is not shown.</summary>
    /// <param name="share">0 to 1.</param>
    /// <param name="standardError">Standard error, 0 to 1.</param>
    public static string Percent(double share, double standardError) =>
        $"{Percent(share)} ± {Math.Max(1, Math.Ceiling(standardError * 100)).ToString("0", CultureInfo.InvariantCulture)}";

    /// <summary>Money with its currency; invented prices carry that word on the line.</summary>
    /// <param name="amount">The amount.</param>
    /// <param name="currency">ISO 4217; XXX prints no currency.</param>
    /// <param name="invented">Whether a price behind it is invented.</param>
    public static string Money(double amount, string currency, bool invented) =>
        $"{Three(amount)}{(currency == "XXX" ? string.Empty : " " + currency)}{(invented ? " (invented prices)" : string.Empty)}";

    /// <summary>A length of time in the unit a person would use, three digits.</summary>
    /// <param name="seconds">Seconds.</param>
    public static string Duration(double seconds) => Math.Abs(seconds) switch
    {
        >= 2 * 86_400 => $"{Three(seconds / 86_400)} d",
        >= 3600 => $"{Three(seconds / 3600)} h",
        >= 60 => $"{Three(seconds / 60)} min",
        _ => $"{Three(seconds)} s",
    };

    /// <summary>A time of day, also past midnight: 25:30 is 01:30 (+1 day).</summary>
    /// <param name="secondsAfterMidnight">Seconds after the day's midnight.</param>
    public static string Clock(double secondsAfterMidnight)
    {
        long minutes = (long)Math.Ceiling(secondsAfterMidnight / 60);
        (long day, long inDay) = Math.DivRem(minutes, 1440);
        string time = string.Create(CultureInfo.InvariantCulture, $"{inDay / 60:00}:{inDay % 60:00}");
        return day > 0 ? $"{time} (+{day} d)" : time;
    }
}
