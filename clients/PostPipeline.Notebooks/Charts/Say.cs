using System.Globalization;
using Printing = PostPipeline.Studies.Printing;

namespace PostPipeline.Notebooks.Charts;

/// <summary>How an estimate is printed: never more than three significant digits, never a certain probability.</summary>
public static class Say
{
    /// <summary>A number with at most three significant digits, as everywhere in the suite.</summary>
    /// <param name="value">Any number.</param>
    public static string Number(double value) => Printing.Numbers.Three(value);

    /// <summary>A whole number in full: half-days, rents, what is counted and not estimated.</summary>
    /// <param name="count">Any number.</param>
    public static string Count(long count) => Printing.Numbers.Exact(count);

    /// <summary>A number and its unit.</summary>
    /// <param name="value">Any number.</param>
    /// <param name="unit">The unit; may be empty.</param>
    public static string Number(double value, string unit) => unit.Length == 0 || unit[0] == ':' ? Number(value) + unit : $"{Number(value)} {unit}";

    /// <summary>A probability in per cent; never 0 % and never 100 %, because a simulation cannot show either.</summary>
    /// <param name="probability">0 to 1.</param>
    public static string Probability(double probability) => Printing.Numbers.Percent(probability);

    /// <summary>A date as year-month-day.</summary>
    /// <param name="date">The date.</param>
    public static string Date(DateOnly date) => date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    /// <summary>A date and, unless it is midnight, the time.</summary>
    /// <param name="date">The date and time.</param>
    public static string Date(DateTime date) =>
        date.ToString(date.TimeOfDay == TimeSpan.Zero ? "yyyy-MM-dd" : "yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture);
}
