using System.Net;

namespace PostPipeline.Notebooks.Rendering;

/// <summary>Text on its way into a page.</summary>
internal static class Html
{
    /// <summary>Escapes text for an element or a quoted attribute.</summary>
    public static string Text(string? text) => WebUtility.HtmlEncode(text ?? string.Empty);

    /// <summary>JSON made fit for a script element: nothing in it can close the element or open a comment.</summary>
    public static string Json(string json) => json
        .Replace("<", "\\u003c", StringComparison.Ordinal)
        .Replace(">", "\\u003e", StringComparison.Ordinal)
        .Replace("&", "\\u0026", StringComparison.Ordinal)
        .Replace("\u2028", "\\u2028", StringComparison.Ordinal)
        .Replace("\u2029", "\\u2029", StringComparison.Ordinal);
}
