namespace PostPipeline.Notebooks.Charts;

public static partial class Chart
{
    /// <summary>What goes on in each lane over time; on a page it can be played and stepped through.</summary>
    /// <param name="title">The claim or question.</param>
    /// <param name="unit">The unit of time: "min", "h".</param>
    /// <param name="bars">Lanes stand in the order of their first bar, from the top; states in the order of the legend.</param>
    /// <param name="summary">What the chart shows, as a sentence.</param>
    /// <param name="limits">Moments with a name.</param>
    public static Figure Lanes(string title, string unit, IReadOnlyList<LaneBar> bars, string summary, IReadOnlyList<NamedLine>? limits = null)
    {
        string[] lanes = [.. bars.Select(b => b.Lane).Distinct()];
        string[] states = [.. bars.Select(b => b.State).Distinct()];
        double from = bars.Select(b => b.Start).DefaultIfEmpty(0).Min();
        double to = Math.Max(from + 1e-6, bars.Select(b => b.End).DefaultIfEmpty(1).Max());
        FigureBuilder figure = new(title) { Height = 150 + (26 * lanes.Length), BarMode = "overlay", Play = (from, to, unit) };
        for (int s = 0; s < states.Length; s++)
        {
            LaneBar[] own = [.. bars.Where(b => b.State == states[s])];
            figure.Add(
                "bar",
                ("orientation", "h"),
                ("name", FigureBuilder.Text(states[s])),
                ("y", own.Select(b => FigureBuilder.Text(b.Lane)).ToArray()),
                ("base", own.Select(b => b.Start).ToArray()),
                ("x", own.Select(b => b.End - b.Start).ToArray()),
                ("width", 0.7),
                ("marker", new { color = Palette.Hue(s), pattern = Palette.Pattern(s), line = new { color = Palette.Ink, width = 0.5 } }),
                ("customdata", own.Select(b => $"{Say.Number(b.Start)} to {Say.Number(b.End)} {unit}").ToArray()),
                ("hovertemplate", "%{y}: %{customdata}"));
        }

        foreach (NamedLine limit in limits ?? [])
        {
            figure.LineAtX(limit.Value, limit.Name);
        }

        figure.X(new Axis("Time", unit), ("range", new[] { from - (0.02 * (to - from)), to + (0.02 * (to - from)) }));
        figure.Y(new Axis("Lane", "name"), ("type", "category"), ("title", null), ("categoryorder", "array"), ("categoryarray", lanes.Reverse().Select(FigureBuilder.Text).ToArray()));
        NumberTable table = new(title, ["Lane", "State", $"Start ({unit})", $"End ({unit})"], [.. bars.Select(IReadOnlyList<object?> (b) => [b.Lane, b.State, b.Start, b.End])]);
        return figure.Build(summary, table);
    }
}
