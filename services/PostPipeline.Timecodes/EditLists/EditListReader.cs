using System.Collections.Immutable;
using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.EditLists;

/// <summary>
/// Reads an edit decision list (SMPTE ST 258) from bytes. The tolerant reading takes what is in use: any
/// spacing, any line ending, semicolons or full stops in labels, long reels, statements without an asterisk. A
/// line that looks like an event but cannot be understood is an error with its line and column, never dropped.
/// </summary>
/// <remarks>Column positions and word forms of the standard are from memory.</remarks>
public static class EditListReader
{
    /// <summary>Reads a whole list.</summary>
    /// <param name="text">The file's bytes: ASCII, UTF-8, or Latin-1 where a line is not valid UTF-8.</param>
    /// <param name="options">Limits and strictness; null for the defaults.</param>
    /// <param name="cancellationToken">Ends the reading early.</param>
    public static EditListReading Read(ReadOnlySpan<byte> text, EditListReadOptions? options = null, CancellationToken cancellationToken = default)
    {
        EditListAssembler assembler = new(options ?? new());
        if (text.StartsWith("\uFEFF"u8))
        {
            text = text[3..];
        }

        int line = 0;
        while (!text.IsEmpty)
        {
            if ((line & 0xFFF) == 0)
            {
                cancellationToken.ThrowIfCancellationRequested();
            }

            int end = text.IndexOfAny((byte)'\r', (byte)'\n');
            ReadOnlySpan<byte> content = end < 0 ? text : text[..end];
            int skip = end < 0 ? text.Length : end + 1;
            if (end >= 0 && text[end] == '\r' && skip < text.Length && text[skip] == '\n')
            {
                skip++;
            }

            line++;
            if (!assembler.Take(content, line))
            {
                break;
            }

            text = text[skip..];
        }

        return assembler.Finish();
    }
}
