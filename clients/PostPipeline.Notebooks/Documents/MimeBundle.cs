namespace PostPipeline.Notebooks.Documents;

/// <summary>One value in several representations, by media type. JSON representations are kept as JSON text.</summary>
/// <param name="Parts">Media type to content.</param>
public sealed record MimeBundle(IReadOnlyDictionary<string, string> Parts)
{
    /// <summary>Plain text.</summary>
    public const string PlainText = "text/plain";

    /// <summary>HTML.</summary>
    public const string Html = "text/html";

    /// <summary>Markdown.</summary>
    public const string Markdown = "text/markdown";

    /// <summary>A chart of ours with its summary and rows, as JSON.</summary>
    public const string Figure = "application/vnd.postpipeline.figure+json";

    /// <summary>A table of ours, as JSON.</summary>
    public const string Table = "application/vnd.postpipeline.table+json";

    /// <summary>A bundle of one plain text.</summary>
    /// <param name="text">The text.</param>
    public static MimeBundle OfText(string text) => new(new Dictionary<string, string> { [PlainText] = text });

    /// <summary>The content of a media type, or null.</summary>
    /// <param name="mime">The media type.</param>
    public string? this[string mime] => Parts.TryGetValue(mime, out string? content) ? content : null;
}
