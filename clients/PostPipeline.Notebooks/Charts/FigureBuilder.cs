using Plotly.NET;

namespace PostPipeline.Notebooks.Charts;

/// <summary>
/// Collects traces, axes, limits and notes, and gives every chart the same layout. All text from outside goes through
/// <see cref="Text"/>, because plotly.js reads a few HTML tags and its own templates inside text.
/// </summary>
internal sealed class FigureBuilder(string title)
{
    private readonly List<Trace> traces = [];
    private readonly List<object> shapes = [];
    private readonly List<object> notes = [];
    private readonly Dictionary<string, object?> axes = [];

    public int Height { get; set; } = 420;

    public (string Parameter, double PerUnit)? Drag { get; set; }

    public (double From, double To, string Unit)? Play { get; set; }

    public bool Legend { get; set; } = true;

    public string BarMode { get; set; } = "group";

    /// <summary>Text in bars that would have to be smaller than this (px) is left out; null shrinks it as far as it takes.</summary>
    public int? SmallestText { get; set; }

    public static string Text(string? text) => (text ?? string.Empty)
        .Replace("&", "&amp;", StringComparison.Ordinal)
        .Replace("<", "&lt;", StringComparison.Ordinal)
        .Replace(">", "&gt;", StringComparison.Ordinal)
        .Replace("{", "&#123;", StringComparison.Ordinal)
        .Replace("$", "&#36;", StringComparison.Ordinal);

    public FigureBuilder Add(string type, params (string Name, object? Value)[] properties)
    {
        Trace trace = new(type);
        foreach ((string name, object? value) in properties)
        {
            if (value is not null)
            {
                trace.SetProperty(name, value);
            }
        }

        traces.Add(trace);
        return this;
    }

    public FigureBuilder X(Axis axis, params (string Name, object? Value)[] extra) => PutAxis("xaxis", axis, extra);

    public FigureBuilder Y(Axis axis, params (string Name, object? Value)[] extra) => PutAxis("yaxis", axis, extra);

    public FigureBuilder PutAxis(string name, Axis axis, params (string Name, object? Value)[] extra)
    {
        Dictionary<string, object?> properties = new()
        {
            ["title"] = new { text = Text(axis.Title), standoff = 10 },
            ["automargin"] = true,
            ["gridcolor"] = Palette.Grid,
            ["linecolor"] = Palette.Ink,
            ["zerolinecolor"] = Palette.Grid,
            ["ticks"] = "outside",
            ["tickcolor"] = Palette.Quiet,
        };
        foreach ((string key, object? value) in extra)
        {
            properties[key] = value;
        }

        axes[name] = properties;
        return this;
    }

    /// <summary>A limit across the chart at a height, with its name on it.</summary>
    public FigureBuilder LineAtY(double value, string name, string yref = "y", string xref = "paper")
    {
        shapes.Add(new { type = "line", xref, yref, x0 = 0, x1 = 1, y0 = value, y1 = value, line = new { color = Palette.Ink, width = 2, dash = "6px,3px" } });
        return Note(name, 1, value, xref, yref, xanchor: "right", yanchor: "bottom");
    }

    /// <summary>A limit from bottom to top at a place, with its name on it.</summary>
    public FigureBuilder LineAtX(object value, string name, string xref = "x", string dash = "6px,3px")
    {
        shapes.Add(new { type = "line", xref, yref = "paper", x0 = value, x1 = value, y0 = 0, y1 = 1, line = new { color = Palette.Ink, width = 2, dash } });
        return Note(name, value, 1, xref, "paper", xanchor: "auto", yanchor: "bottom");
    }

    public FigureBuilder Box(object x0, object x1, object y0, object y1, string fill, string xref = "x", string yref = "y", string layer = "below", string? outline = null)
    {
        shapes.Add(new { type = "rect", xref, yref, x0, x1, y0, y1, fillcolor = fill, layer, line = new { width = outline is null ? 0 : 1.5, color = outline ?? Palette.Ink } });
        return this;
    }

    public FigureBuilder Note(string text, object x, object y, string xref = "x", string yref = "y", string xanchor = "left", string yanchor = "middle", int size = 13)
    {
        notes.Add(new
        {
            text = Text(text),
            x,
            y,
            xref,
            yref,
            xanchor,
            yanchor,
            showarrow = false,
            font = new { color = Palette.Ink, size },
            bgcolor = Palette.Paper,
            opacity = 0.92,
            borderpad = 2,
        });
        return this;
    }

    public Figure Build(string summary, NumberTable table)
    {
        Layout layout = new();
        layout.SetProperty("font", new { family = "system-ui, -apple-system, Segoe UI, Roboto, DejaVu Sans, sans-serif", size = 14, color = Palette.Ink });
        layout.SetProperty("paper_bgcolor", "rgba(0,0,0,0)");
        layout.SetProperty("plot_bgcolor", "rgba(0,0,0,0)");
        layout.SetProperty("margin", new { l = 60, r = 16, t = 64, b = 56 });
        layout.SetProperty("showlegend", Legend);
        layout.SetProperty("legend", new { orientation = "h", x = 0, y = 1, yref = "container", xanchor = "left", yanchor = "top", bgcolor = "rgba(0,0,0,0)" });
        layout.SetProperty("barmode", BarMode);
        layout.SetProperty("bargap", 0.3);
        if (SmallestText is int smallest)
        {
            layout.SetProperty("uniformtext", new { mode = "hide", minsize = smallest });
        }

        layout.SetProperty("hoverlabel", new { align = "left", namelength = -1 });
        layout.SetProperty("shapes", shapes);
        layout.SetProperty("annotations", notes);
        foreach ((string name, object? axis) in axes)
        {
            layout.SetProperty(name, axis);
        }

        GenericChart chart = GenericChart.setLayout(layout, GenericChart.ofTraceObjects(false, Microsoft.FSharp.Collections.ListModule.OfSeq(traces)));
        return new(title, summary, Height, chart, table) { Drag = Drag, Play = Play };
    }
}
