using System.Globalization;
using System.Text;
using PostPipeline.Notebooks.Documents;
using PostPipeline.Notebooks.Rendering;

namespace PostPipeline.Notebooks.Pages;

/// <summary>
/// An executed notebook as one self-contained HTML file: no network, plotly.js once, code folded, contents at the side,
/// inputs, versions and notices at the end. Its content security policy allows the two scripts of ours and nothing else.
/// </summary>
public static class ReportPage
{
    private const string Bar = "<button type=\"button\" data-do=\"code\" aria-pressed=\"false\">Show code</button> <button type=\"button\" data-do=\"large\" aria-pressed=\"false\">Large type</button> <button type=\"button\" data-do=\"binary\" aria-pressed=\"false\">Binary units</button> <button type=\"button\" data-do=\"bits\" aria-pressed=\"false\">Bits</button> <button type=\"button\" data-do=\"theme\">Light or dark</button>";

    /// <summary>Makes the page.</summary>
    /// <param name="notebook">The notebook.</param>
    /// <param name="executed">The cells that ran.</param>
    /// <param name="record">What the run was.</param>
    public static string Of(NotebookFile notebook, IReadOnlyList<ExecutedCell> executed, RunRecord record)
    {
        Dictionary<int, ExecutedCell> byIndex = executed.ToDictionary(cell => cell.Cell.Index);
        StringBuilder body = new();
        List<(int Level, string Text, string Id)> contents = [];
        if (record.Problem is not null)
        {
            body.Append("<div class=\"error\" role=\"alert\"><strong>This report is not complete.</strong> ").Append(Html.Text(record.Problem)).Append("</div>");
        }

        foreach (NotebookCell cell in notebook.Cells)
        {
            if (cell.Kind == "markdown")
            {
                AppendMarkdown(body, cell, contents);
            }
            else if (cell.IsCode)
            {
                AppendCode(body, cell, byIndex.GetValueOrDefault(cell.Index));
            }
        }

        body.Append(EndMatter(record));
        contents.Add((2, "How this was made", "made"));
        return PageShell.Of(notebook.Title, Bar, PageShell.Contents(contents), body.ToString(), [PageAssets.Own("page.js")]);
    }

    internal static void AppendMarkdown(StringBuilder body, NotebookCell cell, List<(int Level, string Text, string Id)> contents)
    {
        string id = "part-" + cell.Index.ToString(CultureInfo.InvariantCulture);
        body.Append("<section class=\"prose\" id=\"").Append(id).Append("\">").Append(MarkdownHtml.Of(cell.Source)).Append("</section>");
        (int level, string text) = MarkdownHtml.Headings(cell.Source).FirstOrDefault(heading => heading.Level is 2 or 3);
        if (text is { Length: > 0 })
        {
            contents.Add((level, text, id));
        }
    }

    private static void AppendCode(StringBuilder body, NotebookCell cell, ExecutedCell? run)
    {
        body.Append("<section class=\"cell\" data-cell=\"").Append(cell.Index).Append("\">");
        if (cell.Source.Trim().Length > 0)
        {
            string line = cell.Source.Split('\n').Select(l => l.Trim()).FirstOrDefault(l => l.Length > 0) ?? string.Empty;
            body.Append("<details class=\"code\"><summary>Code of cell ").Append(cell.Index + 1).Append("<span class=\"first\"> ").Append(Html.Text(line.Length > 70 ? line[..70] + "…" : line)).Append("</span></summary><pre><code>").Append(Html.Text(cell.Source)).Append("</code></pre></details>");
        }

        if (run is null)
        {
            body.Append("<p class=\"quiet\">This cell was not run.</p>");
        }
        else if (cell.Has(NotebookCell.AnswerTag))
        {
            body.Append("<details class=\"answer\"><summary>Reveal the answer</summary>").Append(OutputHtml.Of(run.Outputs)).Append("</details>");
        }
        else
        {
            body.Append("<div class=\"outputs\">").Append(OutputHtml.Of(run.Outputs)).Append("</div>");
        }

        body.Append("</section>");
    }

    internal static string EndMatter(RunRecord record)
    {
        StringBuilder html = new("<section class=\"made\" id=\"made\"><h2>How this was made</h2>");
        Pairs(html, "Inputs", "Input", "Value", record.Inputs);
        Pairs(html, "Seed and digests", "What", "Value", record.Marks);
        Pairs(html, "Versions", "Part", "Version", record.Versions);
        html.Append("<details class=\"notices\"><summary>Third-party notices</summary><p>This page carries plotly.js ").Append(Html.Text(PageAssets.PlotlyVersion)).Append(":</p><pre>").Append(Html.Text(PageAssets.PlotlyLicence)).Append("</pre><p>Charts are described with Plotly.NET (MIT licence). Text is set with Markdig (BSD 2-clause licence). The hues are those of M. Okabe and K. Ito, “Color Universal Design”, 2008.</p></details></section>");
        return html.ToString();
    }

    private static void Pairs(StringBuilder html, string title, string left, string right, IReadOnlyList<(string Name, string Value)> pairs)
    {
        if (pairs.Count == 0)
        {
            return;
        }

        html.Append("<table class=\"pairs\"><caption>").Append(title).Append("</caption><thead><tr><th scope=\"col\">").Append(left).Append("</th><th scope=\"col\">").Append(right).Append("</th></tr></thead><tbody>");
        foreach ((string name, string value) in pairs)
        {
            html.Append("<tr><th scope=\"row\">").Append(Html.Text(name)).Append("</th><td>").Append(Html.Text(value)).Append("</td></tr>");
        }

        html.Append("</tbody></table>");
    }
}
