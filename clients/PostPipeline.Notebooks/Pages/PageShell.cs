using System.Text;
using PostPipeline.Notebooks.Rendering;

namespace PostPipeline.Notebooks.Pages;

/// <summary>
/// What every page of ours has around its text: styles, plotly.js once where there are charts, our scripts, and a content security policy that
/// allows just these scripts by their hashes, and no network but what is named.
/// </summary>
internal static class PageShell
{
    /// <param name="title">The title.</param>
    /// <param name="bar">The buttons at the top.</param>
    /// <param name="aside">What stands at the side: contents, controls.</param>
    /// <param name="body">The text.</param>
    /// <param name="scripts">Our scripts, after plotly.js.</param>
    /// <param name="connect">Where a script may connect; empty for nowhere.</param>
    /// <param name="charts">False for a page that never has a chart, and so needs no plotly.js.</param>
    public static string Of(string title, string bar, string aside, string body, IReadOnlyList<string> scripts, string connect = "", bool charts = true)
    {
        string[] all = charts ? [PageAssets.PlotlyWrapped, .. scripts] : [.. scripts];
        string policy = $"default-src 'none'; script-src {string.Join(' ', all.Select(PageAssets.Hash))}; style-src 'unsafe-inline'; img-src data: blob:; base-uri 'none'; form-action 'none'{(connect.Length > 0 ? "; connect-src " + connect : string.Empty)}";
        StringBuilder html = new();
        html.Append("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta http-equiv=\"Content-Security-Policy\" content=\"").Append(Html.Text(policy)).Append("\">\n")
            .Append("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<meta name=\"referrer\" content=\"no-referrer\">\n<link rel=\"icon\" href=\"data:,\">\n<title>").Append(Html.Text(title)).Append("</title>\n")
            .Append("<style>").Append(PageAssets.Own("page.css")).Append("</style>\n</head>\n<body>\n<a class=\"skip\" href=\"#main\">Skip to the text</a>\n<div class=\"bar\">").Append(bar).Append("</div>\n")
            .Append("<div class=\"page\">").Append(aside).Append("<main id=\"main\" tabindex=\"-1\">").Append(body).Append("</main></div>\n");
        foreach (string script in all)
        {
            html.Append("<script>").Append(script).Append("</script>\n");
        }

        return html.Append("</body>\n</html>\n").ToString();
    }

    /// <summary>A table of contents.</summary>
    public static string Contents(IReadOnlyList<(int Level, string Text, string Id)> contents)
    {
        StringBuilder html = new("<nav class=\"contents\" aria-label=\"Contents\"><details open><summary>Contents</summary><ul>");
        foreach ((int level, string text, string id) in contents)
        {
            html.Append("<li class=\"l").Append(level).Append("\"><a href=\"#").Append(id).Append("\">").Append(Html.Text(text)).Append("</a></li>");
        }

        return html.Append("</ul></details></nav>").ToString();
    }
}
