namespace PostPipeline.Notebooks.Charts;

/// <summary>The charts. Each takes plain rows, draws ranges as bands and limits as named lines, and puts a unit on every axis.</summary>
public static partial class Chart
{
    /// <summary>Bytes by day, one panel a tier, one area a pipeline, the capacity as a line.</summary>
    /// <param name="title">The claim or question.</param>
    /// <param name="tiers">From the dearest tier down.</param>
    public static Figure Occupancy(string title, IReadOnlyList<OccupancyTier> tiers)
    {
        FigureBuilder figure = new(title) { Height = 120 + (250 * tiers.Count) };
        List<IReadOnlyList<object?>> rows = [];
        List<string> sentences = [];
        const double Gap = 0.12;
        double each = (1 - (Gap * (tiers.Count - 1))) / tiers.Count;
        for (int i = 0; i < tiers.Count; i++)
        {
            OccupancyTier tier = tiers[i];
            string suffix = i == 0 ? string.Empty : (i + 1).ToString(System.Globalization.CultureInfo.InvariantCulture);
            double top = 1 - (i * (each + Gap));
            figure.PutAxis("yaxis" + suffix, new Axis(Capital(tier.Name), "TB"), ("domain", new[] { Math.Max(0, top - each), top }), ("rangemode", "tozero"));
            for (int c = 0; c < tier.Curves.Count; c++)
            {
                DrawCurve(figure, tier.Curves[c], c, "y" + suffix, showLegend: i == 0);
                sentences.Add(Peak(tier, tier.Curves[c]));
                rows.AddRange(tier.Curves[c].Points.Select(IReadOnlyList<object?> (p) => [tier.Name, tier.Curves[c].Name, p.At, p.Terabytes, p.Low, p.High]));
            }

            if (tier.CapacityTerabytes is double capacity)
            {
                figure.LineAtY(capacity, $"{tier.Name} capacity {Say.Number(capacity)} TB", "y" + suffix);
            }
        }

        figure.X(new Axis("Date", "calendar day"), ("type", "date"), ("anchor", "y" + (tiers.Count > 1 ? tiers.Count : string.Empty)));
        return figure.Build(string.Join(" ", sentences), new(title, ["Tier", "Pipeline", "Date", "P50 (TB)", "P10 (TB)", "P90 (TB)"], rows));
    }

    private static void DrawCurve(FigureBuilder figure, OccupancyCurve curve, int series, string yaxis, bool showLegend)
    {
        string[] dates = Numbers.Iso(curve.Points.Select(p => p.At));
        string name = FigureBuilder.Text(curve.Name);
        if (curve.Points.Any(p => p.Low is not null && p.High is not null))
        {
            figure.Add("scatter", ("x", dates), ("y", Numbers.Gaps(curve.Points.Select(p => p.Low ?? p.Terabytes))), ("yaxis", yaxis), ("mode", "lines"), ("line", new { width = 0 }), ("hoverinfo", "skip"), ("showlegend", false), ("legendgroup", name));
            figure.Add("scatter", ("x", dates), ("y", Numbers.Gaps(curve.Points.Select(p => p.High ?? p.Terabytes))), ("yaxis", yaxis), ("mode", "lines"), ("line", new { width = 0 }), ("fill", "tonexty"), ("fillcolor", Palette.Wash(series, 0.28)), ("hoverinfo", "skip"), ("showlegend", false), ("legendgroup", name));
        }

        figure.Add(
            "scatter",
            ("x", dates),
            ("y", Numbers.Gaps(curve.Points.Select(p => p.Terabytes))),
            ("yaxis", yaxis),
            ("name", name),
            ("legendgroup", name),
            ("showlegend", showLegend),
            ("mode", "lines"),
            ("line", new { color = Palette.Hue(series), width = 3, dash = Palette.Dash(series) }),
            ("fill", "tozeroy"),
            ("fillcolor", Palette.Wash(series, 0.12)),
            ("hovertemplate", "%{x|%Y-%m-%d}<br>%{y:.3s} TB"));
    }

    private static string Peak(OccupancyTier tier, OccupancyCurve curve)
    {
        if (curve.Points.All(p => p.Terabytes <= 0))
        {
            return $"{curve.Name} holds nothing {tier.Name}.";
        }

        OccupancyPoint peak = curve.Points.MaxBy(p => p.Terabytes)!;
        string against = tier.CapacityTerabytes is double capacity
            ? peak.Terabytes > capacity ? $", over the capacity of {Say.Number(capacity)} TB" : $", within {Say.Number(capacity)} TB"
            : string.Empty;
        return $"{curve.Name} peaks at {Say.Number(peak.Terabytes)} TB {tier.Name} on {Say.Date(DateOnly.FromDateTime(peak.At))}{against}.";
    }

    private static string Capital(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];
}
