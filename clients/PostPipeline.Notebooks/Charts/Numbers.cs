namespace PostPipeline.Notebooks.Charts;

/// <summary>Prepares numbers for plotly.js, which wants gaps as null and dates as ISO text.</summary>
internal static class Numbers
{
    public static double? Gap(double value) => double.IsFinite(value) ? value : null;

    public static double?[] Gaps(IEnumerable<double> values) => [.. values.Select(Gap)];

    public static string Iso(DateTime date) => date.ToString("yyyy-MM-dd'T'HH:mm:ss", System.Globalization.CultureInfo.InvariantCulture);

    public static string[] Iso(IEnumerable<DateTime> dates) => [.. dates.Select(Iso)];
}
