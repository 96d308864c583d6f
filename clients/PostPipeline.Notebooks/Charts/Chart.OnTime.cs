namespace PostPipeline.Notebooks.Charts;

public static partial class Chart
{
    private static readonly int[] PercentRange = [0, 104];

    /// <summary>P(on time) for each pipeline: two bars, if the lock date holds and with lock slip, against the confidence asked for.</summary>
    /// <param name="title">The claim or question.</param>
    /// <param name="bars">One for each pipeline.</param>
    /// <param name="confidence">The confidence asked for, 0 to 1.</param>
    /// <param name="what">What the bars stand for.</param>
    public static Figure OnTime(string title, IReadOnlyList<OnTimeBar> bars, double confidence, string what = "Pipeline")
    {
        FigureBuilder figure = new(title) { Height = 150 + (66 * bars.Count) };
        string[] names = [.. bars.Select(b => FigureBuilder.Text(b.Name))];
        void Series(string name, int series, Func<OnTimeBar, double?> value, Func<OnTimeBar, double> error) => figure.Add(
            "bar",
            ("orientation", "h"),
            ("name", name),
            ("y", names),
            ("x", bars.Select(b => value(b) * 100).ToArray()),
            ("text", bars.Select(b => value(b) is double p ? FigureBuilder.Text(Say.Probability(p)) : string.Empty).ToArray()),
            ("textposition", "inside"),
            ("insidetextanchor", "start"),
            ("textfont", new { color = Palette.TextOn(series), size = 15 }),
            ("textangle", 0),
            // A chance ends at 0 and at 1, and so do its whiskers.
            ("error_x", new
            {
                type = "data",
                symmetric = false,
                array = bars.Select(b => Math.Min(error(b), 1 - (value(b) ?? 1)) * 100).ToArray(),
                arrayminus = bars.Select(b => Math.Min(error(b), value(b) ?? 0) * 100).ToArray(),
                color = Palette.Ink,
                thickness = 1.5,
            }),
            ("marker", new { color = Palette.Hue(series), pattern = Palette.Pattern(series) }),
            ("hovertemplate", "%{y}: %{text}<extra></extra>"));
        Series("if the lock date holds", 0, b => b.IfLockHolds, b => b.Error);
        if (bars.Any(b => b.WithLockSlip is not null))
        {
            Series("with lock slip", 4, b => b.WithLockSlip, b => b.ErrorWithLockSlip);
        }

        figure.X(new Axis("P(on time), if nothing outside this list happens", "%"), ("range", PercentRange));
        figure.Y(new Axis(what, "name"), ("autorange", "reversed"), ("title", null));
        figure.LineAtX(confidence * 100, $"asked for: {Say.Probability(confidence)}");
        string summary = string.Join(" ", bars.Select(b => $"{b.Name}: {Say.Probability(b.IfLockHolds)} if the lock date holds" + (b.WithLockSlip is double slip ? $", {Say.Probability(slip)} with lock slip." : ".")));
        NumberTable table = new(title, [what, "P(on time) if the lock date holds", "P(on time) with lock slip", "Monte Carlo standard error if the lock date holds", "with lock slip"], [.. bars.Select(IReadOnlyList<object?> (b) => [b.Name, new Chance(b.IfLockHolds), b.WithLockSlip is double slip ? new Chance(slip) : null, b.Error, b.ErrorWithLockSlip])]);
        return figure.Build(summary, table);
    }
}
