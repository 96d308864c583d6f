using System.Text;

namespace PostPipeline.Notebooks.Rendering;

/// <summary>A table with a caption, headed columns, and buttons that copy it or save it as CSV.</summary>
internal static class TableHtml
{
    private const int ShownRows = 200;

    public static string Of(TableContent table, bool captioned = true)
    {
        StringBuilder html = new("<div class=\"table\"><div class=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"");
        html.Append(Html.Text(table.Title.Length > 0 ? table.Title : "table")).Append("\"><table>");
        if (captioned && table.Title.Length > 0)
        {
            html.Append("<caption><span>").Append(Html.Text(table.Title)).Append("</span></caption>");
        }

        html.Append("<thead><tr>");
        for (int c = 0; c < table.Columns.Count; c++)
        {
            html.Append("<th scope=\"col\"").Append(table.Numeric[c] ? " class=\"n\"" : string.Empty).Append('>').Append(Html.Text(table.Columns[c])).Append("</th>");
        }

        html.Append("</tr></thead><tbody>");
        foreach (IReadOnlyList<string> row in table.Rows.Take(ShownRows))
        {
            html.Append("<tr>");
            for (int c = 0; c < row.Count; c++)
            {
                html.Append("<td").Append(table.Numeric[c] ? " class=\"n\"" : Width(row[c])).Append('>').Append(Html.Text(row[c])).Append("</td>");
            }

            html.Append("</tr>");
        }

        html.Append("</tbody></table></div>");
        if (table.RowCount > ShownRows)
        {
            html.Append("<p class=\"quiet\">The first ").Append(ShownRows).Append(" of ").Append(table.RowCount).Append(" rows; the CSV holds all.</p>");
        }

        html.Append("<p class=\"tools\"><button type=\"button\" data-do=\"copy\">Copy</button> <button type=\"button\" data-do=\"csv\" data-name=\"")
            .Append(Html.Text(FileName(table.Title))).Append("\">Save as CSV</button><span class=\"told\" role=\"status\"></span></p><script type=\"application/json\" class=\"csv\">")
            .Append(Html.Json(System.Text.Json.JsonSerializer.Serialize(table.Csv))).Append("</script></div>");
        return html.ToString();
    }

    // Short words stay on one line and names on two; a sentence gets the room that it needs, so that a narrow screen scrolls sideways and not for ever down.
    private static string Width(string text) =>
        text.Length <= 6 || (text.Length <= 12 && !text.Contains(' ')) ? " class=\"s\"" : text.Length > 40 ? " class=\"long\"" : " class=\"name\"";

    private static string FileName(string title)
    {
        string name = new([.. title.ToLowerInvariant().Select(c => char.IsAsciiLetterOrDigit(c) ? c : '-')]);
        name = string.Join('-', name.Split('-', StringSplitOptions.RemoveEmptyEntries));
        return (name.Length == 0 ? "table" : name[..Math.Min(name.Length, 60)]) + ".csv";
    }
}
