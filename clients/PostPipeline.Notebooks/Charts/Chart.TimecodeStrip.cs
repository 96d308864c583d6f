namespace PostPipeline.Notebooks.Charts;

public static partial class Chart
{
    /// <summary>Clips on their timecode labels, one row a lane; labels used twice on a lane are hatched and counted.</summary>
    /// <param name="title">The claim or question.</param>
    /// <param name="clips">The clips.</param>
    public static Figure TimecodeStrip(string title, IReadOnlyList<TimecodeClip> clips)
    {
        string[] lanes = [.. clips.Select(c => c.Lane).Distinct()];
        FigureBuilder figure = new(title) { Height = 150 + (70 * lanes.Length), Legend = false, BarMode = "overlay", SmallestText = 11 };
        // Under the clips, so that the hatch does not lie on their names.
        List<string> overlaps = [];
        Dictionary<TimecodeClip, string> lines = [];
        for (int lane = 0; lane < lanes.Length; lane++)
        {
            foreach ((TimecodeClip first, TimecodeClip second, long from, long count) in Overlaps([.. clips.Where(c => c.Lane == lanes[lane])]))
            {
                figure.Add("bar", ("orientation", "h"), ("y", new[] { FigureBuilder.Text(lanes[lane]) }), ("base", new[] { from }), ("x", new[] { count }), ("width", 0.78), ("marker", new { color = "rgba(0,0,0,0)", pattern = new { shape = "/", fgcolor = Palette.Alarm, size = 8, solidity = 0.35 }, line = new { color = Palette.Alarm, width = 3 } }), ("hovertemplate", $"{count} labels used twice<extra></extra>"));
                figure.Note($"{count.ToString("N0", System.Globalization.CultureInfo.InvariantCulture)} labels used twice", from, lane - 0.46, yanchor: "bottom");

                // The two names stand on a line each, so that one does not lie on the other however narrow the page is.
                lines.TryAdd(first, $"{FigureBuilder.Text(first.Name)}<br>\u00a0");
                lines.TryAdd(second, $"\u00a0<br>{FigureBuilder.Text(second.Name)}");
                overlaps.Add($"{first.Name} and {second.Name} share {count.ToString("N0", System.Globalization.CultureInfo.InvariantCulture)} labels.");
            }
        }

        for (int i = 0; i < clips.Count; i++)
        {
            TimecodeClip clip = clips[i];
            figure.Add(
                "bar",
                ("orientation", "h"),
                ("y", new[] { FigureBuilder.Text(clip.Lane) }),
                ("base", new[] { clip.FirstFrame }),
                ("x", new[] { clip.FrameCount }),
                ("width", 0.62),
                ("text", new[] { lines.GetValueOrDefault(clip, FigureBuilder.Text(clip.Name)) }),
                ("textposition", "inside"),
                ("insidetextanchor", "start"),
                ("textangle", 0),
                ("textfont", new { color = Palette.Ink }),
                ("marker", new { color = Palette.Wash(i, Palette.UnderText), line = new { color = Palette.Hue(i), width = 2 } }),
                ("hovertemplate", $"{FigureBuilder.Text(clip.Name)}<br>{FigureBuilder.Text(clip.FirstLabel)} to {FigureBuilder.Text(clip.EndLabel)}<extra></extra>"));
        }

        (long Frame, string Label)[] ticks = [.. clips.SelectMany(c => new[] { (c.FirstFrame, c.FirstLabel), (c.FirstFrame + c.FrameCount, c.EndLabel) }).DistinctBy(t => t.Item1).OrderBy(t => t.Item1)];
        figure.X(new Axis("Label", "timecode"), ("tickvals", ticks.Select(t => t.Frame).ToArray()), ("ticktext", ticks.Select(t => FigureBuilder.Text(t.Label)).ToArray()), ("tickangle", -30));
        figure.Y(new Axis("Lane", "name"), ("autorange", "reversed"), ("title", null), ("type", "category"), ("categoryorder", "array"), ("categoryarray", lanes.Select(FigureBuilder.Text).ToArray()), ("ticksuffix", "  "));
        string summary = overlaps.Count == 0 ? $"{clips.Count} clips; no label is used twice on a lane." : string.Join(" ", overlaps);
        return figure.Build(summary, new(title, ["Lane", "Clip", "First label", "End label", "First frame", "Frames"], [.. clips.Select(IReadOnlyList<object?> (c) => [c.Lane, c.Name, c.FirstLabel, c.EndLabel, c.FirstFrame, c.FrameCount])]));
    }

    private static IEnumerable<(TimecodeClip First, TimecodeClip Second, long From, long Count)> Overlaps(TimecodeClip[] clips)
    {
        for (int i = 0; i < clips.Length; i++)
        {
            for (int j = i + 1; j < clips.Length; j++)
            {
                long from = Math.Max(clips[i].FirstFrame, clips[j].FirstFrame);
                long to = Math.Min(clips[i].FirstFrame + clips[i].FrameCount, clips[j].FirstFrame + clips[j].FrameCount);
                if (to > from)
                {
                    yield return (clips[i], clips[j], from, to - from);
                }
            }
        }
    }
}
