namespace PostPipeline.Notebooks.Charts;

public static partial class Chart
{
    /// <summary>Amounts by category, ranges as whiskers, limits as named lines.</summary>
    /// <param name="title">The claim or question.</param>
    /// <param name="axis">The axis of the values.</param>
    /// <param name="rows">The bars.</param>
    /// <param name="limits">Limits on the values.</param>
    /// <param name="stacked">True puts the series of one category end to end.</param>
    public static Figure Bars(string title, Axis axis, IReadOnlyList<BarRow> rows, IReadOnlyList<NamedLine>? limits = null, bool stacked = false)
    {
        string[] categories = [.. rows.Select(r => r.Category).Distinct()];
        string[] series = [.. rows.Select(r => r.Series).Distinct()];
        FigureBuilder figure = new(title) { BarMode = stacked ? "stack" : "group", Legend = series.Length > 1, Height = 140 + (categories.Length * (stacked ? 44 : 30 + (22 * series.Length))) };
        for (int i = 0; i < series.Length; i++)
        {
            BarRow[] own = [.. rows.Where(r => r.Series == series[i])];
            bool ranged = !stacked && own.Any(r => r.Low is not null && r.High is not null);
            figure.Add(
                "bar",
                ("orientation", "h"),
                ("name", FigureBuilder.Text(series[i])),
                ("y", own.Select(r => FigureBuilder.Text(r.Category)).ToArray()),
                ("x", Numbers.Gaps(own.Select(r => r.Value))),
                ("error_x", ranged ? new { type = "data", symmetric = false, array = own.Select(r => Math.Max(0, (r.High ?? r.Value) - r.Value)).ToArray(), arrayminus = own.Select(r => Math.Max(0, r.Value - (r.Low ?? r.Value))).ToArray(), color = Palette.Ink, thickness = 1.5 } : null),
                ("marker", new { color = Palette.Hue(i), pattern = Palette.Pattern(i) }),
                ("text", own.Select(r => Say.Number(r.Value)).ToArray()),
                ("textposition", stacked ? "none" : ranged ? "inside" : "auto"),
                ("insidetextanchor", "start"),
                ("textangle", 0),
                ("textfont", new { color = Palette.TextOn(i) }),
                ("outsidetextfont", new { color = Palette.Ink }),
                ("hovertemplate", "%{y}: %{text}<extra>%{fullData.name}</extra>"));
        }

        foreach (NamedLine limit in limits ?? [])
        {
            figure.LineAtX(limit.Value, limit.Name);
        }

        figure.X(axis, ("rangemode", "tozero"));
        figure.Y(new Axis("Category", "name"), ("autorange", "reversed"), ("title", null), ("type", "category"), ("ticksuffix", "  "));
        string summary = stacked
            ? string.Join(" ", categories.Select(category => $"{category}: {Say.Number(rows.Where(r => r.Category == category).Sum(r => r.Value), axis.Unit)} in all, most for {rows.Where(r => r.Category == category).MaxBy(r => r.Value)!.Series}."))
            : string.Join(" ", rows.Select(r => $"{r.Category}{(series.Length > 1 ? ", " + r.Series : string.Empty)}: {Say.Number(r.Value, axis.Unit)}."));
        summary += string.Concat((limits ?? []).Select(l => $" Limit: {l.Name}."));
        return figure.Build(summary, new(title, ["Category", "Series", axis.Title, "Low (P10)", "High (P90)"], [.. rows.Select(IReadOnlyList<object?> (r) => [r.Category, r.Series, r.Value, r.Low, r.High])]));
    }
}
