namespace PostPipeline.Notebooks.Charts;

public static partial class Chart
{
    private const double ProjectGap = 0.7;

    /// <summary>
    /// Stages of several projects as bars in time, a band a project with as many rows as stages run beside each other; colours
    /// and hatches say what does the work. Each project's due date is a line across its band, its late end a diamond.
    /// </summary>
    /// <param name="title">The claim or question.</param>
    /// <param name="projects">From the top.</param>
    public static Figure Projects(string title, IReadOnlyList<PlannedProject> projects)
    {
        List<(PlannedProject Project, PlannedStage Stage, double Row)> bars = [];
        List<(double Top, double Bottom)> bands = [];
        double next = 0;
        foreach (PlannedProject project in projects)
        {
            (PlannedStage Stage, int Row)[] rows = [.. Rows(project.Stages)];
            int height = rows.Select(r => r.Row + 1).DefaultIfEmpty(1).Max();
            bars.AddRange(rows.Select(r => (project, r.Stage, next + r.Row + 0.5)));
            bands.Add((next, next + height));
            next += height + ProjectGap;
        }

        FigureBuilder figure = new(title) { Height = 150 + (int)(26 * next), BarMode = "overlay", SmallestText = 11 };
        string[] works = [.. bars.Select(b => b.Stage.Work).Distinct()];
        for (int w = 0; w < works.Length; w++)
        {
            (PlannedProject Project, PlannedStage Stage, double Row)[] own = [.. bars.Where(b => b.Stage.Work == works[w])];
            figure.Add(
                "bar",
                ("orientation", "h"),
                ("name", FigureBuilder.Text(works[w])),
                ("y", own.Select(b => b.Row).ToArray()),
                ("base", Numbers.Iso(own.Select(b => b.Stage.Start))),
                ("x", own.Select(b => Span(b.Stage.Start, b.Stage.End)).ToArray()),
                ("width", 0.86),
                ("text", own.Select(b => FigureBuilder.Text(b.Stage.Name)).ToArray()),
                ("textposition", "inside"),
                ("insidetextanchor", "start"),
                ("textangle", 0),
                ("textfont", new { color = Palette.TextOn(w) }),
                ("marker", new { color = Palette.Hue(w), pattern = Palette.Pattern(w), line = new { color = Palette.Ink, width = 0.5 } }),
                ("customdata", own.Select(b => $"{FigureBuilder.Text(b.Project.Name)}: {FigureBuilder.Text(b.Stage.Name)}<br>{Say.Date(b.Stage.Start)} to {Say.Date(b.Stage.End)}").ToArray()),
                ("hovertemplate", "%{customdata}"));
        }

        AddDates(figure, projects, bands);
        DateTime[] moments = [.. projects.SelectMany(p => p.Stages.SelectMany(s => new[] { s.Start, s.End }).Append(p.Due).Append(p.LateEnd ?? p.Due))];
        TimeSpan margin = 0.02 * (moments.DefaultIfEmpty().Max() - moments.DefaultIfEmpty().Min());
        figure.X(new Axis("Date", "calendar day"), ("type", "date"), ("range", moments.Length == 0 ? null : Numbers.Iso([moments.Min() - margin, moments.Max() + margin])));
        figure.Y(
            new Axis("Project", "name and pipeline"),
            ("title", null),
            ("range", new[] { next - ProjectGap + 0.2, -0.2 }),
            ("tickvals", bands.Select(b => (b.Top + b.Bottom) / 2).ToArray()),
            ("ticktext", projects.Select(p => $"{FigureBuilder.Text(p.Name)}<br><i>{FigureBuilder.Text(p.Pipeline)}</i>  ").ToArray()),
            ("showgrid", false),
            ("zeroline", false));
        NumberTable table = new(
            title,
            ["Project", "Pipeline", "Stage", "Work", "Start", "End", "Due"],
            [.. projects.SelectMany(p => p.Stages.Select(IReadOnlyList<object?> (s) => [p.Name, p.Pipeline, s.Name, s.Work, s.Start, s.End, p.Due]))]);
        return figure.Build(string.Join(" ", projects.Select(EndOf)), table);
    }

    private static void AddDates(FigureBuilder figure, IReadOnlyList<PlannedProject> projects, List<(double Top, double Bottom)> bands)
    {
        figure.Add(
            "scatter",
            ("name", "due"),
            ("mode", "lines"),
            ("x", projects.SelectMany(p => new[] { Numbers.Iso(p.Due), Numbers.Iso(p.Due), null }).ToArray()),
            ("y", bands.SelectMany(b => new double?[] { b.Top - 0.15, b.Bottom + 0.15, null }).ToArray()),
            ("line", new { color = Palette.Ink, width = 4 }),
            ("hovertemplate", "due %{x|%Y-%m-%d}<extra></extra>"));
        (PlannedProject Project, double At)[] judged = [.. projects.Zip(bands, (p, b) => (p, (b.Top + b.Bottom) / 2)).Where(j => j.p.LateEnd is not null)];
        if (judged.Length > 0)
        {
            figure.Add(
                "scatter",
                ("name", "end, P90"),
                ("mode", "markers"),
                ("x", Numbers.Iso(judged.Select(j => j.Project.LateEnd!.Value))),
                ("y", judged.Select(j => j.At).ToArray()),
                ("marker", new { symbol = "diamond", size = 13, color = judged.Select(j => j.Project.LateEnd > j.Project.Due ? Palette.Alarm : Palette.Paper).ToArray(), line = new { color = Palette.Ink, width = 2 } }),
                ("hovertemplate", "end P90 %{x|%Y-%m-%d}<extra></extra>"));
        }

        foreach ((double _, double bottom) in bands.SkipLast(1))
        {
            figure.Box(0, 1, bottom + (ProjectGap / 2), bottom + (ProjectGap / 2), Palette.Grid, xref: "paper", outline: Palette.Grid);
        }
    }

    private static IEnumerable<(PlannedStage Stage, int Row)> Rows(IReadOnlyList<PlannedStage> stages)
    {
        List<DateTime> free = [];
        foreach (PlannedStage stage in stages.Where(s => s.End > s.Start).OrderBy(s => s.Start).ThenBy(s => s.End))
        {
            int row = free.FindIndex(end => end <= stage.Start);
            if (row < 0)
            {
                row = free.Count;
                free.Add(default);
            }

            free[row] = stage.End;
            yield return (stage, row);
        }
    }

    private static string EndOf(PlannedProject project)
    {
        double days = (project.End - project.Due).TotalDays;
        string against = days > 0 ? $"{Say.Number(days, "days")} after it is due" : days < 0 ? $"{Say.Number(-days, "days")} before it is due" : "when it is due";
        return $"{project.Name} ({project.Pipeline}) ends on {Say.Date(DateOnly.FromDateTime(project.End.AddTicks(-1)))}, {against}"
            + (project.LateEnd is DateTime late ? $", P90 on {Say.Date(DateOnly.FromDateTime(late.AddTicks(-1)))}." : ".");
    }
}
