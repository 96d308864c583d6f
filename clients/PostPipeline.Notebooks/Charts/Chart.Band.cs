namespace PostPipeline.Notebooks.Charts;

public static partial class Chart
{
    /// <summary>Lines with bands, limits as named lines on either axis.</summary>
    /// <param name="title">The claim or question.</param>
    /// <param name="x">The x axis.</param>
    /// <param name="y">The y axis.</param>
    /// <param name="series">The lines.</param>
    /// <param name="limits">Limits on y.</param>
    /// <param name="marks">Values on x that matter.</param>
    /// <param name="stepped">True draws steps, for counts that jump.</param>
    public static Figure Band(string title, Axis x, Axis y, IReadOnlyList<BandSeries> series, IReadOnlyList<NamedLine>? limits = null, IReadOnlyList<NamedLine>? marks = null, bool stepped = false)
    {
        FigureBuilder figure = new(title) { Legend = series.Count > 1 };
        DrawBands(figure, series, stepped);
        foreach (NamedLine limit in limits ?? [])
        {
            figure.LineAtY(limit.Value, limit.Name);
        }

        foreach (NamedLine mark in marks ?? [])
        {
            figure.LineAtX(mark.Value, mark.Name);
        }

        figure.X(x, ("dtick", x.IsCount ? WholeStep(series) : null), ("tick0", x.IsCount ? 0 : null));
        figure.Y(y, ("rangemode", "tozero"));
        string summary = string.Join(" ", series.Select(s => Ends(s, x, y)).Concat((limits ?? []).Select(l => $"Limit: {l.Name}.")).Concat((marks ?? []).Select(m => $"Marked: {m.Name} at {x.Read(m.Value)}.")));
        return figure.Build(summary, BandTable(title, x, y, series));
    }

    private static void DrawBands(FigureBuilder figure, IReadOnlyList<BandSeries> series, bool stepped)
    {
        string shape = stepped ? "hv" : "linear";
        for (int i = 0; i < series.Count; i++)
        {
            BandSeries line = series[i];
            double?[] xs = Numbers.Gaps(line.Points.Select(p => p.X));
            string name = FigureBuilder.Text(line.Name);
            if (line.Points.Any(p => p.Low is not null && p.High is not null))
            {
                figure.Add("scatter", ("x", xs), ("y", Numbers.Gaps(line.Points.Select(p => p.Low ?? p.Y))), ("mode", "lines"), ("line", new { width = 0, shape }), ("hoverinfo", "skip"), ("showlegend", false), ("legendgroup", name));
                figure.Add("scatter", ("x", xs), ("y", Numbers.Gaps(line.Points.Select(p => p.High ?? p.Y))), ("mode", "lines"), ("line", new { width = 0, shape }), ("fill", "tonexty"), ("fillcolor", Palette.Wash(i, 0.25)), ("hoverinfo", "skip"), ("showlegend", false), ("legendgroup", name));
            }

            bool few = line.Points.Count <= 25;
            figure.Add("scatter", ("x", xs), ("y", Numbers.Gaps(line.Points.Select(p => p.Y))), ("name", name), ("legendgroup", name), ("mode", few ? "lines+markers" : "lines"), ("line", new { color = Palette.Hue(i), width = 3, dash = Palette.Dash(i), shape }), ("marker", new { symbol = Palette.Marker(i), size = 8, color = Palette.Hue(i) }));
        }
    }

    private static NumberTable BandTable(string title, Axis x, Axis y, IReadOnlyList<BandSeries> series) => new(
        title,
        ["Series", x.Title, y.IsProbability ? y.Quantity : y.Title, "Low (P10)", "High (P90)"],
        [.. series.SelectMany(s => s.Points.Select(IReadOnlyList<object?> (p) => [s.Name, p.X, Cell(y, p.Y), Cell(y, p.Low), Cell(y, p.High)]))]);

    private static object? Cell(Axis axis, double? value) => axis.IsProbability && value is double percent ? new Chance(percent / 100) : value;

    // At most ten ticks, at 1, 2 or 5 times a power of ten.
    private static double WholeStep(IReadOnlyList<BandSeries> series)
    {
        double[] xs = [.. series.SelectMany(s => s.Points.Select(p => p.X))];
        double step = xs.Length == 0 ? 1 : Math.Max(1, (xs.Max() - xs.Min()) / 10);
        double power = Math.Pow(10, Math.Floor(Math.Log10(step)));
        return power * (step <= power + 1e-9 ? 1 : step <= (2 * power) + 1e-9 ? 2 : step <= (5 * power) + 1e-9 ? 5 : 10);
    }

    private static string Ends(BandSeries line, Axis x, Axis y) => line.Points.Count == 0
        ? $"{line.Name}: no points."
        : $"{line.Name}: {y.Read(line.Points[0].Y)} at {x.Read(line.Points[0].X)}, {y.Read(line.Points[^1].Y)} at {x.Read(line.Points[^1].X)}.";
}
