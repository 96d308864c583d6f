using Google.Protobuf;

namespace PostPipeline.Client.Conforming;

/// <summary>Cuts a file into the pieces that the conform service takes: at most so many lines, at most so many bytes.</summary>
public static class FilePieces
{
    /// <summary>The most lines in a piece.</summary>
    public const int MostLines = 1_000;

    /// <summary>The most bytes in a piece.</summary>
    public const int MostBytes = 1 << 19;

    /// <summary>The pieces of a stream, in order. A piece ends behind a line wherever a line is not longer than a piece.</summary>
    /// <param name="stream">The stream.</param>
    /// <param name="cancellationToken">Ends the reading.</param>
    public static async IAsyncEnumerable<ByteString> OfAsync(
        Stream stream, [System.Runtime.CompilerServices.EnumeratorCancellation] CancellationToken cancellationToken = default)
    {
        byte[] buffer = new byte[MostBytes];
        int filled = 0;
        bool ended = false;
        while (!ended || filled > 0)
        {
            while (!ended && filled < buffer.Length)
            {
                int read = await stream.ReadAsync(buffer.AsMemory(filled), cancellationToken).ConfigureAwait(false);
                ended = read == 0;
                filled += read;
            }

            int length = Length(buffer.AsSpan(0, filled), ended);
            if (length > 0)
            {
                yield return ByteString.CopyFrom(buffer, 0, length);
                buffer.AsSpan(length, filled - length).CopyTo(buffer);
                filled -= length;
            }
        }
    }

    private static int Length(ReadOnlySpan<byte> bytes, bool ended)
    {
        int lines = 0;
        int at = 0;
        while (lines < MostLines)
        {
            int end = bytes[at..].IndexOf((byte)'\n');
            if (end < 0)
            {
                return ended || at == 0 ? bytes.Length : at;
            }

            at += end + 1;
            lines++;
        }

        return at;
    }
}
