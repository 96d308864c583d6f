namespace PostPipeline.Notebooks.Charts;

public static partial class Chart
{
    /// <summary>The buffer over time: it fills in the window around the press, and empties at the write rate.</summary>
    /// <param name="title">The claim or question.</param>
    /// <param name="burst">The burst.</param>
    /// <param name="triggerParameter">On a live page: the parameter that dragging the window changes; empty for none.</param>
    public static Figure Burst(string title, BurstWindow burst, string triggerParameter = "")
    {
        double atPress = burst.InRateMegabytesPerSecond * burst.TriggerPosition * burst.WindowSeconds / 1000;
        double empty = burst.EndSeconds + burst.DrainSeconds;
        double[] times = [burst.StartSeconds, 0, burst.EndSeconds, empty];
        double[] fill = [0, atPress, burst.FilledGigabytes, 0];
        FigureBuilder figure = new(title) { Height = 400, Legend = false, Drag = triggerParameter.Length > 0 ? (triggerParameter, -1 / burst.WindowSeconds) : null };
        figure.Box(burst.StartSeconds, burst.EndSeconds, 0, 1, Palette.Wash(1, 0.22), yref: "paper");
        figure.Add("scatter", ("x", Numbers.Gaps(times)), ("y", Numbers.Gaps(fill)), ("mode", "lines+markers"), ("fill", "tozeroy"), ("fillcolor", Palette.Wash(0, 0.25)), ("line", new { color = Palette.Hue(0), width = 3 }), ("marker", new { size = 8, color = Palette.Hue(0) }), ("hovertemplate", "%{x:.2f} s: %{y:.1f} GB<extra></extra>"));
        figure.LineAtY(burst.BufferGigabytes, $"buffer {Say.Number(burst.BufferGigabytes)} GB");
        figure.LineAtX(0, "press", dash: "solid");
        figure.Note($"window {Say.Number(burst.WindowSeconds)} s", burst.StartSeconds, 0.06, yref: "paper");
        figure.Note($"empty again after {Say.Number(burst.DrainSeconds)} s", empty, 0.14, yref: "paper", xanchor: "right", yanchor: "bottom");
        double margin = 0.04 * (empty - burst.StartSeconds);
        figure.X(new Axis("Time from the press", "s"), ("range", new[] { burst.StartSeconds - margin, empty + margin }));
        figure.Y(new Axis("In the buffer", "GB"), ("range", new[] { 0, Math.Max(burst.BufferGigabytes, burst.FilledGigabytes) * 1.15 }));
        NumberTable table = new(title, ["Moment", "Time from the press (s)", "In the buffer (GB)"], [["window starts", times[0], fill[0]], ["press", times[1], fill[1]], ["window ends", times[2], fill[2]], ["empty again", times[3], fill[3]]]);
        return figure.Build($"The window of {Say.Number(burst.WindowSeconds, "s")} starts {Say.Number(-burst.StartSeconds, "s")} before the press and ends {Say.Number(burst.EndSeconds, "s")} after it; the buffer then holds {Say.Number(burst.FilledGigabytes, "GB")} and is empty {Say.Number(burst.DrainSeconds, "s")} later.", table);
    }
}
