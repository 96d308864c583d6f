using System.Globalization;

namespace PostPipeline.Notebooks.Charts;

/// <summary>How an estimate is printed: never more than three significant digits, never a certain probability.</summary>
public static class Say
{
    /// <summary>A number with at most three significant digits and no exponent between 0.001 and a million.</summary>
    /// <param name="value">Any number.</param>
    public static string Number(double value)
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

    /// <summary>A number and its unit.</summary>
    /// <param name="value">Any number.</param>
    /// <param name="unit">The unit; may be empty.</param>
    public static string Number(double value, string unit) => unit.Length == 0 || unit[0] == ':' ? Number(value) + unit : $"{Number(value)} {unit}";

    /// <summary>A probability in per cent; never 0 % and never 100 %, because a simulation cannot show either.</summary>
    /// <param name="probability">0 to 1.</param>
    public static string Probability(double probability) => probability switch
    {
        < 0.01 => "<1 %",
        > 0.99 => ">99 %",
        _ => string.Create(CultureInfo.InvariantCulture, $"{Math.Round(probability * 100, MidpointRounding.AwayFromZero):0} %"),
    };

    /// <summary>A date as year-month-day.</summary>
    /// <param name="date">The date.</param>
    public static string Date(DateOnly date) => date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    /// <summary>A date and, unless it is midnight, the time.</summary>
    /// <param name="date">The date and time.</param>
    public static string Date(DateTime date) =>
        date.ToString(date.TimeOfDay == TimeSpan.Zero ? "yyyy-MM-dd" : "yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture);
}
