using Markdig;
using Markdig.Renderers.Html;
using Markdig.Syntax;
using Markdig.Syntax.Inlines;

namespace PostPipeline.Notebooks.Rendering;

/// <summary>CommonMark with tables to HTML. HTML inside is shown as text, and a link goes only to http, https, or a place on the page.</summary>
internal static class MarkdownHtml
{
    private static readonly MarkdownPipeline Pipeline = new MarkdownPipelineBuilder().DisableHtml().UsePipeTables().Build();

    public static string Of(string text)
    {
        MarkdownDocument document = Markdig.Markdown.Parse(text, Pipeline);
        foreach (LinkInline link in document.Descendants<LinkInline>())
        {
            string target = link.Url ?? string.Empty;
            bool safe = target.StartsWith('#') || target.StartsWith("https://", StringComparison.OrdinalIgnoreCase) || target.StartsWith("http://", StringComparison.OrdinalIgnoreCase);
            if (!safe || link.IsImage)
            {
                link.Url = "#";
                link.IsImage = false;
            }

            link.GetAttributes().AddPropertyIfNotExist("rel", "noreferrer");
        }

        return document.ToHtml(Pipeline);
    }

    /// <summary>The headings of a text, for a table of contents.</summary>
    public static IReadOnlyList<(int Level, string Text)> Headings(string text) =>
    [
        .. Markdig.Markdown.Parse(text, Pipeline).Descendants<HeadingBlock>().Select(heading => (
            heading.Level,
            string.Concat(heading.Inline?.Descendants<LeafInline>().Select(inline => inline switch
            {
                LiteralInline literal => literal.Content.ToString(),
                CodeInline code => code.Content,
                _ => " ",
            }) ?? []).Trim())),
    ];
}
