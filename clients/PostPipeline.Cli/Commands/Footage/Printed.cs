using System.Globalization;

namespace PostPipeline.Cli.Commands.Footage;

/// <summary>How amounts are printed for people: three digits on an estimate, and the unit that suits them.</summary>
internal static class Printed
{
    /// <summary>At most three significant digits: an estimate says no more.</summary>
    public static string Three(double value)
    {
        if (value == 0 || !double.IsFinite(value))
        {
            return value.ToString(CultureInfo.InvariantCulture);
        }

        int decimals = 2 - (int)Math.Floor(Math.Log10(Math.Abs(value)));
        double step = Math.Pow(10, Math.Max(0, -decimals));
        return decimals >= 0
            ? Math.Round(value, Math.Min(15, decimals)).ToString("0.###############", CultureInfo.InvariantCulture)
            : (Math.Round(value / step) * step).ToString("0", CultureInfo.InvariantCulture);
    }

    /// <summary>Bytes a second as megabytes a second.</summary>
    public static string Megabytes(double bytesPerSecond) => $"{Three(bytesPerSecond / 1e6)} MB/s";

    /// <summary>Bytes in the decimal unit that suits them.</summary>
    public static string Amount(long bytes) => Math.Abs((double)bytes) switch
    {
        < 1e6 => $"{bytes} B",
        < 1e9 => $"{Three(bytes / 1e6)} MB",
        < 1e12 => $"{Three(bytes / 1e9)} GB",
        _ => $"{Three(bytes / 1e12)} TB",
    };

    /// <summary>Bytes in the decimal and in the binary unit, and how far the two lie apart (IEC 80000-13).</summary>
    public static string BothUnits(long bytes)
    {
        int power = bytes >= 1_000_000_000_000_000 ? 5 : bytes >= 1_000_000_000_000 ? 4 : bytes >= 1_000_000_000 ? 3 : 2;
        char prefix = " KMGTP"[power];
        double apart = Math.Pow(1.024, power) - 1;
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{bytes / Math.Pow(1000, power):0.##} {prefix}B = {bytes / Math.Pow(1024, power):0.##} {prefix}iB: one {prefix}iB is {apart * 100:0.00} % more than one {prefix}B");
    }

    /// <summary>Seconds in the unit that suits them.</summary>
    public static string Span(double seconds) => Math.Abs(seconds) switch
    {
        < 120 => $"{Three(seconds)} s",
        < 7200 => $"{Three(seconds / 60)} min",
        _ => $"{Three(seconds / 3600)} h",
    };

    /// <summary>Seconds after midnight as a time of day, with the days after.</summary>
    public static string TimeOfDay(double seconds)
    {
        long minutes = (long)Math.Round(seconds / 60);
        string days = minutes >= 1440 ? $" +{minutes / 1440} d" : string.Empty;
        return $"{minutes / 60 % 24:00}:{minutes % 60:00}{days}";
    }
}
