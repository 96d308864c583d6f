using System.Text;

namespace PostPipeline.Timecodes.EditLists;

/// <summary>Words of an edit list as bytes.</summary>
internal static class EditText
{
    public static bool StartsWith(ReadOnlySpan<byte> content, ReadOnlySpan<byte> word) =>
        content.Length >= word.Length && Ascii.EqualsIgnoreCase(content[..word.Length], word);

    public static string Of(ReadOnlySpan<byte> bytes)
    {
        // A list in another encoding than UTF-8 keeps every byte as the Latin-1 character of the same value.
        return System.Text.Unicode.Utf8.IsValid(bytes) ? Encoding.UTF8.GetString(bytes) : Encoding.Latin1.GetString(bytes);
    }

    public static bool AllDigits(ReadOnlySpan<byte> word) => word.Length > 0 && word.IndexOfAnyExceptInRange((byte)'0', (byte)'9') < 0;

    public static int Number(ReadOnlySpan<byte> digits)
    {
        int value = 0;
        foreach (byte digit in digits)
        {
            value = Math.Min((value * 10) + (digit - '0'), 100_000_000);
        }

        return value;
    }

    /// <summary>Whether a word names tracks in a way that is in use.</summary>
    public static bool IsUsualTracks(ReadOnlySpan<byte> word)
    {
        if (Ascii.EqualsIgnoreCase(word, "NONE"u8) || Ascii.EqualsIgnoreCase(word, "B"u8) || Ascii.EqualsIgnoreCase(word, "AA"u8))
        {
            return true;
        }

        foreach (byte c in word)
        {
            if (c is not ((byte)'V' or (byte)'A' or (byte)'/' or (>= (byte)'0' and <= (byte)'9')))
            {
                return false;
            }
        }

        return true;
    }
}
