namespace PostPipeline.Notebooks.Charts;

public static partial class Chart
{
    /// <summary>Which inputs move the answer most, the widest at the top.</summary>
    /// <param name="title">The claim or question.</param>
    /// <param name="axis">The axis of the answer.</param>
    /// <param name="middle">The answer with every input at its middle value.</param>
    /// <param name="rows">One for each input, in any order.</param>
    public static Figure Tornado(string title, Axis axis, double middle, IReadOnlyList<TornadoRow> rows)
    {
        TornadoRow[] ordered = [.. rows.OrderByDescending(r => Math.Abs(r.AtHigh - r.AtLow)).ThenBy(r => r.Input, StringComparer.Ordinal)];
        FigureBuilder figure = new(title) { BarMode = "overlay", Height = 150 + (34 * ordered.Length) };
        string[] names = [.. ordered.Select(r => FigureBuilder.Text(r.Input))];
        void Side(string name, int series, Func<TornadoRow, double> at, Func<TornadoRow, string> input) => figure.Add(
            "bar",
            ("orientation", "h"),
            ("name", name),
            ("y", names),
            ("base", ordered.Select(_ => middle).ToArray()),
            ("x", ordered.Select(r => at(r) - middle).ToArray()),
            ("marker", new { color = Palette.Hue(series), pattern = Palette.Pattern(series) }),
            ("text", ordered.Select(r => FigureBuilder.Text(input(r))).ToArray()),
            ("textposition", "outside"),
            ("customdata", ordered.Select(r => Say.Number(at(r), axis.Unit)).ToArray()),
            ("hovertemplate", "%{y} at %{text}: %{customdata}<extra></extra>"));
        Side("input at its low value", 4, r => r.AtLow, r => r.LowInput);
        Side("input at its high value", 1, r => r.AtHigh, r => r.HighInput);
        figure.LineAtX(middle, $"all at the middle: {Say.Number(middle, axis.Unit)}");
        figure.X(axis);
        figure.Y(new Axis("Input", "name"), ("autorange", "reversed"), ("title", null), ("type", "category"), ("ticksuffix", "  "));
        string summary = string.Join(" ", ordered.Select(r => $"{r.Input} from {r.LowInput} to {r.HighInput}: {Say.Number(r.AtLow)} to {Say.Number(r.AtHigh, axis.Unit)}."));
        return figure.Build(summary, new(title, ["Input", "Low input", "High input", "Answer at low", "Answer at high"], [.. ordered.Select(IReadOnlyList<object?> (r) => [r.Input, r.LowInput, r.HighInput, r.AtLow, r.AtHigh])]));
    }
}
