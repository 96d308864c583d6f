namespace PostPipeline.Notebooks.Charts;

public static partial class Chart
{
    /// <summary>One curve a pipeline over an input, and the values at which the preferred one changes.</summary>
    /// <param name="title">The claim or question.</param>
    /// <param name="x">The input.</param>
    /// <param name="y">The answer.</param>
    /// <param name="series">One for each pipeline.</param>
    /// <param name="tippings">Where the preference changes; may be empty.</param>
    /// <param name="today">Today's value of the input, where it is known.</param>
    public static Figure Tipping(string title, Axis x, Axis y, IReadOnlyList<BandSeries> series, IReadOnlyList<TippingInterval> tippings, double? today = null)
    {
        FigureBuilder figure = new(title) { Height = 460 };
        DrawBands(figure, series, stepped: false);
        foreach (TippingInterval tipping in tippings)
        {
            figure.Box(tipping.Low, tipping.High, 0, 1, "rgba(120,120,120,0.25)", yref: "paper");
            figure.LineAtX(tipping.Value, $"{tipping.Below} → {tipping.Above} at {Say.Number(tipping.Value, x.Unit)}");
        }

        if (today is double value)
        {
            figure.LineAtX(value, $"today {Say.Number(value, x.Unit)}", dash: "2px,3px");
        }

        figure.X(x);
        figure.Y(y, ("rangemode", "tozero"));
        string summary = tippings.Count == 0
            ? "The preferred pipeline does not change over this range."
            : string.Join(" ", tippings.Select(t => $"{t.Below} is preferred below {Say.Number(t.Value, x.Unit)}, {t.Above} above; open between {Say.Number(t.Low)} and {Say.Number(t.High, x.Unit)}."));
        return figure.Build(summary, BandTable(title, x, y, series));
    }
}
