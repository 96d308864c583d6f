namespace PostPipeline.Notebooks.Charts;

public static partial class Chart
{
    private const double DayMilliseconds = 86_400_000;

    /// <summary>
    /// What projects take of something shared, day by day on top of each other, a panel for each thing, with how much there is
    /// as a named line. Amounts of a day stand as bars, what stays over days as areas.
    /// </summary>
    /// <param name="title">The claim or question.</param>
    /// <param name="panels">From the top.</param>
    /// <param name="areas">True for what stays over days, such as storage.</param>
    public static Figure DailyLoad(string title, IReadOnlyList<LoadPanel> panels, bool areas = false)
    {
        FigureBuilder figure = new(title) { Height = 150 + (240 * panels.Count), BarMode = "stack" };
        const double Gap = 0.12;
        double each = (1 - (Gap * (panels.Count - 1))) / Math.Max(1, panels.Count);
        List<IReadOnlyList<object?>> rows = [];
        for (int i = 0; i < panels.Count; i++)
        {
            LoadPanel panel = panels[i];
            string suffix = i == 0 ? string.Empty : (i + 1).ToString(System.Globalization.CultureInfo.InvariantCulture);
            double top = 1 - (i * (each + Gap));
            figure.PutAxis("yaxis" + suffix, new Axis(Capital(panel.Name), panel.Unit), ("domain", new[] { Math.Max(0, top - each), top }), ("rangemode", "tozero"));
            string[] dates = Numbers.Iso(Enumerable.Range(0, panel.Days).Select(d => panel.FirstDay.AddDays(d).ToDateTime(TimeOnly.MinValue)));
            for (int s = 0; s < panel.Series.Count; s++)
            {
                AddLoad(figure, panel.Series[s], s, dates, "y" + suffix, showLegend: i == 0, areas);
            }

            if (panel.Capacity is { Count: > 0 } capacity)
            {
                double most = capacity.Max();
                figure.Add("scatter", ("x", dates), ("y", Numbers.Gaps(capacity)), ("yaxis", "y" + suffix), ("name", "capacity"), ("legendgroup", "capacity"), ("showlegend", i == 0), ("mode", "lines"), ("line", new { color = Palette.Ink, width = 2, dash = "6px,3px", shape = "hv" }), ("hovertemplate", "capacity %{y:.3s}"));
                figure.Note($"{panel.Name}: capacity {(capacity.Min() == most ? string.Empty : "up to ")}{Say.Number(most)} {panel.Unit}", 1, most, "paper", "y" + suffix, xanchor: "right", yanchor: "bottom");
            }

            for (int day = 0; day < panel.Days; day++)
            {
                rows.AddRange(panel.Series.Where(s => day < s.Values.Count && s.Values[day] > 0).Select(IReadOnlyList<object?> (s) => [panel.Name, panel.FirstDay.AddDays(day), s.Name, s.Values[day], panel.Capacity is { } c && day < c.Count ? c[day] : null, panel.Unit]));
            }
        }

        figure.X(new Axis("Date", "calendar day"), ("type", "date"), ("anchor", "y" + (panels.Count > 1 ? panels.Count : string.Empty)));
        return figure.Build(string.Join(" ", panels.Select(Busiest)), new(title, ["What is shared", "Date", "Project", "Amount", "Capacity", "Unit"], rows));
    }

    private static void AddLoad(FigureBuilder figure, LoadSeries series, int hue, string[] dates, string yaxis, bool showLegend, bool areas)
    {
        string name = FigureBuilder.Text(series.Name);
        object pattern = Palette.Pattern(hue);
        if (areas)
        {
            figure.Add("scatter", ("x", dates), ("y", Numbers.Gaps(series.Values)), ("yaxis", yaxis), ("name", name), ("legendgroup", name), ("showlegend", showLegend), ("mode", "lines"), ("stackgroup", "load" + yaxis), ("line", new { color = Palette.Ink, width = 0.7, shape = "hv" }), ("fillcolor", Palette.Hue(hue)), ("fillpattern", pattern), ("hovertemplate", "%{x|%Y-%m-%d}<br>%{y:.3s}"));
        }
        else
        {
            figure.Add("bar", ("x", dates), ("y", Numbers.Gaps(series.Values)), ("yaxis", yaxis), ("offset", 0), ("width", DayMilliseconds), ("name", name), ("legendgroup", name), ("showlegend", showLegend), ("marker", new { color = Palette.Hue(hue), pattern, line = new { width = 0 } }), ("hovertemplate", "%{x|%Y-%m-%d}<br>%{y:.3s}"));
        }
    }

    private static string Busiest(LoadPanel panel)
    {
        int day = Enumerable.Range(0, panel.Days).DefaultIfEmpty(0).MaxBy(panel.Total);
        if (panel.Days == 0 || panel.Total(day) <= 0)
        {
            return $"{Capital(panel.Name)}: nothing.";
        }

        string full = panel.Capacity is { } capacity
            ? $"; there are {Say.Number(capacity[day])} on that day, and {Enumerable.Range(0, panel.Days).Count(d => d < capacity.Count && panel.Total(d) > 0 && panel.Total(d) >= capacity[d] * 0.999)} days are full" : string.Empty;
        return $"{Capital(panel.Name)}: most on {Say.Date(panel.FirstDay.AddDays(day))}, {Say.Number(panel.Total(day), panel.Unit)}{full}.";
    }
}
