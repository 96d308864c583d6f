using System.Text;

namespace PostPipeline.Studies.Briefs;

/// <summary>
/// Gets the text of a file that a person wrote, within bounds: the size is looked at before anything is read,
/// and text that is not UTF-8 is refused at the byte where it stops being so.
/// </summary>
public static class BriefText
{
    /// <summary>The largest brief or slate, in bytes.</summary>
    public const long MaximumBytes = 1_000_000;

    /// <summary>Reads the file.</summary>
    /// <param name="path">A UTF-8 file of at most <see cref="MaximumBytes"/>.</param>
    /// <param name="expected">What is said of an empty file: what would be expected there.</param>
    /// <exception cref="BriefException">The file is missing, a folder, empty, too large, unreadable or not UTF-8.</exception>
    public static string Read(string path, string expected = "a brief starts with 'brief: 1'")
    {
        if (Directory.Exists(path))
        {
            throw new BriefException(path, "this is a folder; give the brief's file, such as FOLDER/brief.yaml");
        }

        FileInfo info = new(path);
        if (!info.Exists)
        {
            throw new BriefException(path, "the file is not there");
        }

        if (info.Length > MaximumBytes)
        {
            throw new BriefException(path, $"the file has {info.Length} bytes; allowed is at most {MaximumBytes} bytes (1 MB)");
        }

        byte[] bytes = ReadBounded(path);
        if (bytes.Length > MaximumBytes)
        {
            throw new BriefException(path, $"the file has more than {MaximumBytes} bytes (1 MB), the most that is allowed");
        }

        ReadOnlySpan<byte> content = bytes.AsSpan().StartsWith(Encoding.UTF8.Preamble) ? bytes.AsSpan(3) : bytes;
        try
        {
            string text = new UTF8Encoding(false, true).GetString(content);
            return string.IsNullOrWhiteSpace(text)
                ? throw new BriefException(path, $"the file is empty; {expected}")
                : text;
        }
        catch (DecoderFallbackException error)
        {
            int at = Math.Clamp(error.Index, 0, content.Length);
            long line = content[..at].Count((byte)'\n') + 1;
            long column = at - content[..at].LastIndexOf((byte)'\n');
            string found = error.BytesUnknown is { Length: > 0 } unknown ? $"0x{Convert.ToHexString(unknown)}" : string.Empty;
            throw new BriefException([new(path, line, column, string.Empty, found, "this is not UTF-8 text; save the file as UTF-8")]);
        }
    }

    // A file without a length of its own (a pipe, a device) can grow while it is read: stop one byte after the bound.
    private static byte[] ReadBounded(string path)
    {
        try
        {
            using FileStream stream = new(path, FileMode.Open, FileAccess.Read, FileShare.Read);
            byte[] buffer = new byte[MaximumBytes + 1];
            int read = stream.ReadAtLeast(buffer, buffer.Length, throwOnEndOfStream: false);
            return buffer[..read];
        }
        catch (Exception error) when (error is UnauthorizedAccessException or IOException)
        {
            throw new BriefException(path, $"the file cannot be read: {error.Message}");
        }
    }
}
