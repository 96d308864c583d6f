namespace PostPipeline.Notebooks.Charts;

public static partial class Chart
{
    /// <summary>Pipelines between two answers, ranges as whiskers; hollow where a gate fails or is not proven. No score is made of the two.</summary>
    /// <param name="title">The claim or question.</param>
    /// <param name="x">The first answer.</param>
    /// <param name="y">The second answer.</param>
    /// <param name="points">One for each pipeline.</param>
    /// <param name="limitX">A limit on the first answer.</param>
    /// <param name="limitY">A limit on the second answer.</param>
    public static Figure TradeOff(string title, Axis x, Axis y, IReadOnlyList<TradeOffPoint> points, NamedLine? limitX = null, NamedLine? limitY = null)
    {
        FigureBuilder figure = new(title) { Height = 460 };
        for (int i = 0; i < points.Count; i++)
        {
            TradeOffPoint point = points[i];
            object Whisker(double middle, double low, double high) => new { type = "data", symmetric = false, array = new[] { Math.Max(0, high - middle) }, arrayminus = new[] { Math.Max(0, middle - low) }, color = Palette.Hue(i), thickness = 2 };
            figure.Add(
                "scatter",
                ("mode", "markers"),
                ("name", FigureBuilder.Text(point.Admissible ? point.Name : point.Name + " (not admissible)")),
                ("x", new[] { Numbers.Gap(point.X) }),
                ("y", new[] { Numbers.Gap(point.Y) }),
                ("error_x", Whisker(point.X, point.LowX, point.HighX)),
                ("error_y", Whisker(point.Y, point.LowY, point.HighY)),
                ("marker", new { size = 18, symbol = Palette.Marker(i) + (point.Admissible ? string.Empty : "-open"), color = Palette.Hue(i), line = new { width = 3, color = point.Admissible ? Palette.Ink : Palette.Hue(i) } }));
        }

        if (limitX is not null)
        {
            figure.LineAtX(limitX.Value, limitX.Name);
        }

        if (limitY is not null)
        {
            figure.LineAtY(limitY.Value, limitY.Name);
        }

        figure.X(x, ("rangemode", "tozero"));
        figure.Y(y);
        string summary = string.Join(" ", points.Select(p => $"{p.Name}: {Say.Number(p.X, x.Unit)} and {Say.Number(p.Y, y.Unit)}{(p.Admissible ? string.Empty : ", not admissible")}."));
        return figure.Build(summary, new(title, ["Pipeline", x.Title, "P10", "P90", y.Title, "P10", "P90", "Admissible"], [.. points.Select(IReadOnlyList<object?> (p) => [p.Name, p.X, p.LowX, p.HighX, p.Y, p.LowY, p.HighY, p.Admissible])]));
    }
}
