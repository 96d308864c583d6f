using System.Globalization;
using PostPipeline.Quantities;

namespace PostPipeline.Studies.Briefs;

/// <summary>Numbers with their unit, into the unit that an estimate is kept in.</summary>
internal static class Amounts
{
    /// <summary>Reads an amount into hours (h), days of 24 h (d), seconds (s), a share (share), bytes (B), bytes per second (B/s) or a plain number.</summary>
    public static bool TryParse(string text, string unit, out double value, out string problem)
    {
        value = 0;
        switch (unit)
        {
            case "h" or "d" or "s" or "min":
                if (!QuantityText.TryParseTime(text, out Rational seconds, out problem))
                {
                    return false;
                }

                value = seconds.ToDouble() / (unit switch { "h" => 3600.0, "d" => 86_400.0, "min" => 60.0, _ => 1.0 });
                return true;
            case "B":
                bool sized = QuantityText.TryParseSize(text, out DataSize size, out problem);
                value = size.Bytes;
                return sized;
            case "B/s":
                bool rated = QuantityText.TryParseRate(text, out DataRate rate, out problem);
                value = rated ? rate.BytesPerSecond.ToDouble() : 0;
                return rated;
            default:
                ReadOnlySpan<char> number = text.AsSpan().Trim();
                bool percent = unit == "share" && number.EndsWith("%");
                number = percent ? number[..^1].TrimEnd() : number;
                problem = unit == "share" ? "a share such as 0.15 or 15 % is expected" : "a number is expected";
                bool parsed = double.TryParse(number, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out value)
                    && double.IsFinite(value);
                value = percent ? value / 100 : value;
                return parsed;
        }
    }

    /// <summary>A time in the unit a person would use.</summary>
    public static string Time(double seconds) => seconds switch
    {
        0 => "0 s",
        >= 86_400 => string.Create(CultureInfo.InvariantCulture, $"{seconds / 86_400:0.##} d"),
        >= 3600 => string.Create(CultureInfo.InvariantCulture, $"{seconds / 3600:0.##} h"),
        >= 60 => string.Create(CultureInfo.InvariantCulture, $"{seconds / 60:0.##} min"),
        _ => string.Create(CultureInfo.InvariantCulture, $"{seconds:0.###} s"),
    };

    /// <summary>An amount with its unit, as the file would write it.</summary>
    public static string Text(double value, string unit) => unit switch
    {
        "share" => string.Create(CultureInfo.InvariantCulture, $"{value * 100:0.##} %"),
        "money" => string.Create(CultureInfo.InvariantCulture, $"{value:0.##}"),
        _ => string.Create(CultureInfo.InvariantCulture, $"{value:0.######} {unit}").TrimEnd(),
    };
}
