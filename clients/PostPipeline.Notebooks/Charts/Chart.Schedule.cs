namespace PostPipeline.Notebooks.Charts;

public static partial class Chart
{
    /// <summary>Stages as bars in time, grouped by pipeline; a thin tail reaches to the late end; critical stages are outlined.</summary>
    /// <param name="title">The claim or question.</param>
    /// <param name="bars">In the order in which they are to stand, from the top.</param>
    /// <param name="dates">Dates that matter, drawn from top to bottom.</param>
    public static Figure Schedule(string title, IReadOnlyList<ScheduleBar> bars, IReadOnlyList<NamedDate> dates)
    {
        FigureBuilder figure = new(title) { Height = 130 + (26 * bars.Count), BarMode = "overlay" };
        string[] groups = [.. bars.Select(b => b.Group).Distinct()];
        for (int g = 0; g < groups.Length; g++)
        {
            ScheduleBar[] own = [.. bars.Where(b => b.Group == groups[g])];
            object[] rows = [own.Select(b => FigureBuilder.Text(b.Group)).ToArray(), own.Select(b => FigureBuilder.Text(b.Stage)).ToArray()];
            string name = FigureBuilder.Text(groups[g]);
            figure.Add("bar", ("orientation", "h"), ("y", rows), ("base", Numbers.Iso(own.Select(b => b.End))), ("x", own.Select(b => Span(b.End, b.LateEnd ?? b.End)).ToArray()), ("width", 0.18), ("marker", new { color = Palette.Hue(g) }), ("legendgroup", name), ("showlegend", false), ("customdata", own.Select(b => Numbers.Iso(b.LateEnd ?? b.End)).ToArray()), ("hovertemplate", "late end %{customdata}<extra></extra>"));
            figure.Add(
                "bar",
                ("orientation", "h"),
                ("name", name),
                ("legendgroup", name),
                ("y", rows),
                ("base", Numbers.Iso(own.Select(b => b.Start))),
                ("x", own.Select(b => Span(b.Start, b.End)).ToArray()),
                ("width", 0.7),
                ("marker", new { color = Palette.Hue(g), pattern = Palette.Pattern(g), line = new { color = Palette.Ink, width = own.Select(b => b.Critical ? 2 : 0).ToArray() } }),
                ("customdata", own.Select(b => Say.Date(b.Start) + " to " + Say.Date(b.End)).ToArray()),
                ("hovertemplate", "%{customdata}<extra></extra>"));
        }

        foreach (NamedDate date in dates)
        {
            figure.LineAtX(Numbers.Iso(date.At), date.Name);
        }

        figure.X(new Axis("Date", "calendar day"), ("type", "date"));
        figure.Y(new Axis("Stage", "pipeline and step"), ("type", "multicategory"), ("autorange", "reversed"), ("title", null), ("dividercolor", Palette.Grid));
        string ends = string.Join(" ", groups.Select(group =>
        {
            ScheduleBar last = bars.Where(b => b.Group == group).MaxBy(b => b.LateEnd ?? b.End)!;
            return $"{group} ends with {last.Stage} on {Say.Date(DateOnly.FromDateTime(last.End))}" + (last.LateEnd is DateTime late ? $", late on {Say.Date(DateOnly.FromDateTime(late))}." : ".");
        }));
        NumberTable table = new(title, ["Pipeline", "Stage", "Start", "End", "Late end (P90)", "Critical"], [.. bars.Select(IReadOnlyList<object?> (b) => [b.Group, b.Stage, b.Start, b.End, b.LateEnd, b.Critical])]);
        return figure.Build(ends + " " + string.Join(" ", dates.Select(d => $"{d.Name}: {Say.Date(d.At)}.")), table);
    }

    private static double Span(DateTime from, DateTime to) => Math.Max(0, (to - from).TotalMilliseconds);
}
