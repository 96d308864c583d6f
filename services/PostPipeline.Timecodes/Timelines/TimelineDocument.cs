using System.Buffers;
using System.Collections.Immutable;
using System.Text.Json;

namespace PostPipeline.Timecodes.Timelines;

/// <summary>
/// An OpenTimelineIO document (JSON). The document itself is kept as it is, unknown schemas and metadata included, so
/// that writing gives back what was read; what is understood is taken out by <see cref="Flatten"/>.
/// </summary>
public sealed class TimelineDocument : IDisposable
{
    /// <summary>The largest document, in bytes.</summary>
    public const int MaximumBytes = 64 << 20;

    /// <summary>How deeply objects may lie within each other.</summary>
    public const int MaximumDepth = 256;

    private readonly JsonDocument json;

    private TimelineDocument(JsonDocument json) => this.json = json;

    /// <summary>Reads a document.</summary>
    /// <param name="utf8">The file's bytes.</param>
    /// <param name="document">The document, or null.</param>
    /// <param name="problem">Why there is none, with line and column.</param>
    /// <returns>Whether the bytes are JSON that holds a timeline or a collection of timeline objects.</returns>
    public static bool TryRead(ReadOnlyMemory<byte> utf8, out TimelineDocument? document, out TimelineProblem problem)
    {
        document = null;
        problem = default;
        if (utf8.Length > MaximumBytes)
        {
            problem = new(string.Empty, true, $"the document has {utf8.Length} bytes; allowed are {MaximumBytes}");
            return false;
        }

        if (utf8.Span.StartsWith("\uFEFF"u8))
        {
            utf8 = utf8[3..];
        }

        JsonDocument json;
        try
        {
            // Parsed from a copy: the caller's memory may change while the document lives.
            json = JsonDocument.Parse(utf8.ToArray(), new() { MaxDepth = MaximumDepth });
        }
        catch (JsonException failure)
        {
            problem = new(string.Empty, true, $"line {failure.LineNumber + 1}, column {failure.BytePositionInLine + 1}: the text is not JSON, or lies deeper than {MaximumDepth} levels");
            return false;
        }

        if (TimelineJson.Schema(json.RootElement) is not ("Timeline" or "Stack" or "Track" or "Clip" or "SerializableCollection"))
        {
            problem = new(string.Empty, true, $"OTIO_SCHEMA is '{TimelineJson.Text(json.RootElement, "OTIO_SCHEMA")}'; allowed is a Timeline, or a Stack, Track, Clip or SerializableCollection");
            json.Dispose();
            return false;
        }

        document = new(json);
        return true;
    }

    /// <summary>The document as it was read, unknown parts included.</summary>
    public byte[] ToUtf8()
    {
        ArrayBufferWriter<byte> bytes = new();
        using (Utf8JsonWriter writer = new(bytes, new() { Indented = true, MaxDepth = MaximumDepth + 1, SkipValidation = true }))
        {
            json.RootElement.WriteTo(writer);
        }

        return bytes.WrittenSpan.ToArray();
    }

    /// <summary>Opens every nesting and lists what is on the tracks.</summary>
    /// <param name="problems">Remarks and errors, by place.</param>
    public FlatTimeline Flatten(out ImmutableArray<TimelineProblem> problems)
    {
        TimelineFlattener flattener = new();
        FlatTimeline flat = flattener.Flatten(json.RootElement);
        problems = flattener.Problems;
        return flat;
    }

    /// <inheritdoc/>
    public void Dispose() => json.Dispose();
}
