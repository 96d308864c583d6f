using PostPipeline.Notebooks.Documents;
using PostPipeline.Notebooks.Rendering;

namespace PostPipeline.Notebooks.Pages;

/// <summary>The outputs of a cell as HTML, the same for the report, the live page and the handout.</summary>
internal static class OutputHtml
{
    public static string Of(IEnumerable<CellOutput> outputs) => string.Concat(outputs.Select(Of));

    public static string Of(CellOutput output) => output switch
    {
        CellOutput.Text { Name: "stderr" } text => $"<pre class=\"text stderr\">{Html.Text(text.Content)}</pre>",
        CellOutput.Text text => $"<pre class=\"text\">{Html.Text(text.Content)}</pre>",
        CellOutput.Value value => Of(value.Bundle),
        CellOutput.Error error => $"<div class=\"error\" role=\"alert\"><strong>{Html.Text(Where(error))}{Html.Text(error.Message)}</strong>{Trace(error)}</div>",
        _ => string.Empty,
    };

    private static string Of(MimeBundle bundle) =>
        bundle[MimeBundle.Figure] is string figure ? FigureHtml.Of(figure)
        : bundle[MimeBundle.Table] is string table ? TableHtml.Of(TableContent.Parse(table))
        : bundle[MimeBundle.Markdown] is string markdown ? $"<div class=\"said\">{MarkdownHtml.Of(markdown)}</div>"
        : bundle[MimeBundle.Html] is string html ? $"<div class=\"html\">{html}</div>"
        : $"<pre class=\"text\">{Html.Text(bundle[MimeBundle.PlainText])}</pre>";

    private static string Where(CellOutput.Error error) => error.Line is int line ? $"Line {line}: " : string.Empty;

    private static string Trace(CellOutput.Error error) => error.Trace.Count == 0
        ? string.Empty
        : $"<details><summary>{Html.Text(error.Kind)}</summary><pre>{Html.Text(string.Join('\n', error.Trace))}</pre></details>";
}
