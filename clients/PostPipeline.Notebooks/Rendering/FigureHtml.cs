using System.Text.Json.Nodes;
using PostPipeline.Notebooks.Pages;

namespace PostPipeline.Notebooks.Rendering;

/// <summary>A chart in a page: its claim, the plot, its summary as text, and the rows behind it folded away.</summary>
internal static class FigureHtml
{
    /// <summary>For a page that carries plotly.js and our script; the script draws every <c>.pp-plot</c> that it finds.</summary>
    public static string Of(string figureJson)
    {
        JsonObject figure = (JsonObject)JsonNode.Parse(figureJson)!;
        string title = figure["title"]!.GetValue<string>();
        string summary = figure["summary"]!.GetValue<string>();
        int height = figure["height"]!.GetValue<int>();
        string player = figure["chart"]!["play"] is JsonObject play
            ? $"<div class=\"player\"><button type=\"button\" data-do=\"run\" aria-pressed=\"false\">Play</button> <button type=\"button\" data-do=\"step\">Step</button> <input type=\"range\" class=\"clock\" aria-label=\"Time ({Html.Text(play["unit"]!.GetValue<string>())})\" min=\"0\" max=\"1000\" value=\"1000\"> <output class=\"now\"></output></div>"
            : string.Empty;
        return $"""
            <figure class="chart"><figcaption>{Html.Text(title)}</figcaption><div class="pp-plot" role="img" aria-label="{Html.Text(title + ". " + summary)}" style="height:{height}px"></div><script type="application/json" class="figure">{Html.Json(figure["chart"]!.ToJsonString())}</script>{player}<p class="summary">{Html.Text(summary)}</p><details class="numbers"><summary>The numbers behind this chart</summary>{TableHtml.Of(TableContent.Of(figure), captioned: false)}</details></figure>
            """;
    }

    /// <summary>For a notebook viewer: the same, with the small script inline. It draws as soon as plotly.js is on the page.</summary>
    public static string Standalone(string figureJson)
    {
        JsonObject figure = (JsonObject)JsonNode.Parse(figureJson)!;
        string title = figure["title"]!.GetValue<string>();
        string summary = figure["summary"]!.GetValue<string>();
        string id = "pp" + Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(System.Text.Encoding.UTF8.GetBytes(figureJson)))[..12];
        return $$$"""
            <div><strong>{{{Html.Text(title)}}}</strong><div id="{{{id}}}" role="img" aria-label="{{{Html.Text(title + ". " + summary)}}}" style="height:{{{figure["height"]!.GetValue<int>()}}}px"></div><p>{{{Html.Text(summary)}}}</p><script>(function(){var chart={{{Html.Json(figure["chart"]!.ToJsonString())}}};function draw(n){if(window.Plotly){Plotly.newPlot(document.getElementById("{{{id}}}"),chart.data,chart.layout,{responsive:true,displaylogo:false});}else if(n<100){setTimeout(function(){draw(n+1);},50);}} draw(0);})();</script></div>
            """;
    }

    /// <summary>plotly.js for a notebook viewer, once a notebook.</summary>
    public static string Library() => "<script>" + PageAssets.PlotlyWrapped + "</script>";
}
