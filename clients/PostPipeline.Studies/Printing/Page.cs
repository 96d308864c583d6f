using System.Net;
using System.Text;

namespace PostPipeline.Studies.Printing;

/// <summary>One printed page as it is put together: a title, paragraphs, tables. Every text is escaped.</summary>
internal sealed class Page
{
    private const int Short = 12;
    private readonly StringBuilder body = new();

    /// <summary>Begins a page.</summary>
    /// <param name="title">What the page is.</param>
    /// <param name="production">For which production.</param>
    public Page(string title, string production) => body.Append("<h1>").Append(Escape(title)).Append("</h1><p>").Append(Escape(production)).Append("</p>");

    /// <summary>The page as HTML, without its footer.</summary>
    public string Html => body.ToString();

    /// <summary>Escapes a text.</summary>
    public static string Escape(string text) => WebUtility.HtmlEncode(text);

    /// <summary>A heading below the title.</summary>
    public Page Heading(string text)
    {
        body.Append("<h2>").Append(Escape(text)).Append("</h2>");
        return this;
    }

    /// <summary>A paragraph.</summary>
    public Page Text(string text)
    {
        body.Append("<p>").Append(Escape(text)).Append("</p>");
        return this;
    }

    /// <summary>A list; nothing where it has no item.</summary>
    public Page List(IEnumerable<string> items)
    {
        string[] texts = [.. items];
        if (texts.Length > 0)
        {
            body.Append("<ul>").AppendJoin(string.Empty, texts.Select(t => $"<li>{Escape(t)}</li>")).Append("</ul>");
        }

        return this;
    }

    /// <summary>A table; an empty cell is a blank to be filled in by hand.</summary>
    /// <param name="head">The headings.</param>
    /// <param name="rows">The cells.</param>
    /// <param name="look">ticks: narrow blanks and a wide last one to sign off in; signatures: high blanks; empty for any other table.</param>
    public Page Table(string[] head, IEnumerable<string[]> rows, string look = "")
    {
        body.Append(look.Length == 0 ? "<table>" : $"<table class=\"{look}\">").Append("<thead><tr>").AppendJoin(string.Empty, head.Select(c => $"<th>{Escape(c)}</th>")).Append("</tr></thead><tbody>");
        foreach (string[] row in rows)
        {
            body.Append("<tr>").AppendJoin(string.Empty, row.Select(Cell)).Append("</tr>");
        }

        body.Append("</tbody></table>");
        return this;
    }

    // A date or a number is not broken over two lines.
    private static string Cell(string text) => text.Length switch
    {
        0 => "<td class=\"blank\"></td>",
        <= Short => $"<td class=\"short\">{Escape(text)}</td>",
        _ => $"<td>{Escape(text)}</td>",
    };
}
