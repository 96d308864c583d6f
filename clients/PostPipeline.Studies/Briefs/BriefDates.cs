using NodaTime;
using NodaTime.Text;

namespace PostPipeline.Studies.Briefs;

/// <summary>Dates and times of day as a brief writes them (ISO 8601 calendar dates, 24-hour clock).</summary>
internal static class BriefDates
{
    private static readonly LocalTimePattern ClockPattern = LocalTimePattern.CreateWithInvariantCulture("HH:mm");

    public static bool TryDate(string text, out LocalDate date)
    {
        ParseResult<LocalDate> result = LocalDatePattern.Iso.Parse(text);
        date = result.Success ? result.Value : default;
        return result.Success && date.Year is >= 1990 and <= 2199;
    }

    public static bool TryClock(string text, out LocalTime time)
    {
        ParseResult<LocalTime> result = ClockPattern.Parse(text);
        time = result.Success ? result.Value : default;
        return result.Success;
    }
}
