namespace PostPipeline.Timecodes.EditLists;

/// <summary>The words of one line, split at spaces and tabs, without copying.</summary>
internal ref struct LineWords
{
    /// <summary>More words than any event line has; the rest of a longer line is not split.</summary>
    public const int Capacity = 32;

    private readonly ReadOnlySpan<byte> line;
    private readonly Span<(int Start, int Length)> words;

    public LineWords(ReadOnlySpan<byte> line, Span<(int Start, int Length)> room)
    {
        this.line = line;
        words = room;
        int at = 0;
        while (Count < room.Length)
        {
            while (at < line.Length && line[at] is (byte)' ' or (byte)'\t')
            {
                at++;
            }

            if (at == line.Length)
            {
                break;
            }

            int end = line[at..].IndexOfAny((byte)' ', (byte)'\t');
            int length = end < 0 ? line.Length - at : end;
            words[Count++] = (at, length);
            at += length;
        }
    }

    /// <summary>How many words were found.</summary>
    public int Count { get; }

    /// <summary>A word by its place.</summary>
    public readonly ReadOnlySpan<byte> this[int index] => line.Slice(words[index].Start, words[index].Length);

    /// <summary>The column of a word, from 1.</summary>
    public readonly int Column(int index) => index < Count ? words[index].Start + 1 : line.Length + 1;
}
