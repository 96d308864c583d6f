namespace PostPipeline.Notebooks.Charts;

public static partial class Chart
{
    /// <summary>How late each project ends: P10 to P90 as a bar around a dot at P50, against its due date, with P(on time) beside it.</summary>
    /// <param name="title">The claim or question.</param>
    /// <param name="rows">From the top.</param>
    public static Figure Lateness(string title, IReadOnlyList<LatenessRow> rows)
    {
        FigureBuilder figure = new(title) { Height = 150 + (54 * rows.Count), Legend = false };
        double low = Math.Min(-1, rows.Select(r => r.P10).DefaultIfEmpty(0).Min());
        double high = Math.Max(1, rows.Select(r => r.P90).DefaultIfEmpty(0).Max());
        double margin = 0.12 * (high - low);
        figure.Box(0, high + (2.2 * margin), 0, 1, "rgba(213,94,0,0.10)", yref: "paper");
        figure.Add(
            "scatter",
            ("mode", "markers"),
            ("y", rows.Select(r => FigureBuilder.Text(r.Name)).ToArray()),
            ("x", Numbers.Gaps(rows.Select(r => r.P50))),
            ("error_x", new { type = "data", symmetric = false, array = rows.Select(r => r.P90 - r.P50).ToArray(), arrayminus = rows.Select(r => r.P50 - r.P10).ToArray(), color = Palette.Hue(0), thickness = 6, width = 0 }),
            ("marker", new { symbol = rows.Select(r => r.P50 > 0 ? "diamond" : "circle").ToArray(), size = 15, color = rows.Select(r => r.P50 > 0 ? Palette.Alarm : Palette.Hue(0)).ToArray(), line = new { color = Palette.Ink, width = 2 } }),
            ("customdata", rows.Select(r => $"P10 {Say.Number(r.P10)}, P50 {Say.Number(r.P50)}, P90 {Say.Number(r.P90)} days").ToArray()),
            ("hovertemplate", "%{y}: %{customdata}<extra></extra>"));
        foreach (LatenessRow row in rows)
        {
            figure.Note($"on time {Say.Probability(row.OnTime)}", 1, FigureBuilder.Text(row.Name), xref: "paper", xanchor: "right");
        }

        figure.LineAtX(0, "due");
        figure.X(new Axis("End against the due date, right of 0 is late", "days"), ("range", new[] { low - margin, high + (2.2 * margin) }));
        figure.Y(new Axis("Project", "name"), ("autorange", "reversed"), ("title", null), ("type", "category"), ("ticksuffix", "  "));
        string summary = string.Join(" ", rows.Select(r => $"{r.Name}: {Against(r.P50)} at P50, {Against(r.P90)} at P90; on time with {Say.Probability(r.OnTime)}."));
        NumberTable table = new(title, ["Project", "P10 (days after due)", "P50 (days after due)", "P90 (days after due)", "P(on time)"], [.. rows.Select(IReadOnlyList<object?> (r) => [r.Name, r.P10, r.P50, r.P90, new Chance(r.OnTime)])]);
        return figure.Build(summary, table);
    }

    private static string Against(double days) => days > 0 ? $"{Say.Number(days, "days")} late" : days < 0 ? $"{Say.Number(-days, "days")} early" : "on the day";
}
