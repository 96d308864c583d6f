using Plotly.NET;

namespace PostPipeline.Notebooks.Charts;

/// <summary>A chart with everything a reader without eyes for it needs: a sentence that says what it shows, and the rows behind it.</summary>
public sealed class Figure
{
    private readonly Lazy<string> json;

    internal Figure(string title, string summary, int height, GenericChart chart, NumberTable table)
    {
        Title = title;
        Summary = summary;
        Height = height;
        Chart = chart;
        Table = table;
        json = new(() => WithPlay(WithDrag(GenericChart.toJson(Chart))));
    }

    /// <summary>The claim or question that the chart answers.</summary>
    public string Title { get; }

    /// <summary>What the chart shows, as a sentence.</summary>
    public string Summary { get; }

    /// <summary>The height in CSS pixels; the width follows the page.</summary>
    public int Height { get; }

    /// <summary>The chart as the charting library has it.</summary>
    public GenericChart Chart { get; }

    /// <summary>The rows behind the chart.</summary>
    public NumberTable Table { get; }

    /// <summary>On a live page: the parameter that dragging along x changes, and by how much a unit of x does; null where dragging does nothing.</summary>
    public (string Parameter, double PerUnit)? Drag { get; internal init; }

    /// <summary>On a page: the span of x that can be played, and its unit; null where there is nothing to play.</summary>
    public (double From, double To, string Unit)? Play { get; internal init; }

    /// <summary>The chart as JSON for plotly.js: data, layout, config.</summary>
    public string ToJson() => json.Value;

    private string WithPlay(string chart) => Play is var (from, to, unit)
        ? string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{chart[..^1]},\"play\":{{\"from\":{from:R},\"to\":{to:R},\"unit\":{System.Text.Json.JsonSerializer.Serialize(unit)}}}}}")
        : chart;

    private string WithDrag(string chart) => Drag is var (parameter, perUnit)
        ? string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{chart[..^1]},\"drag\":{{\"parameter\":{System.Text.Json.JsonSerializer.Serialize(parameter)},\"perUnit\":{perUnit:R}}}}}")
        : chart;
}
