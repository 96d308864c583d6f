using System.Collections.Immutable;
using System.Text;

namespace PostPipeline.Timecodes.Manifests;

/// <summary>Plain checksum text as the general command-line tools write it.</summary>
internal static class ChecksumText
{
    private const int MostProblems = 1_000;
    private const int LongestLine = 16_384;

    public static HashManifest Read(ReadOnlySpan<byte> utf8, CancellationToken cancellationToken)
    {
        ImmutableArray<ManifestEntry>.Builder entries = ImmutableArray.CreateBuilder<ManifestEntry>();
        List<ManifestProblem> problems = [];
        int leftOff = 0;
        int number = 0;
        if (utf8.StartsWith("\uFEFF"u8))
        {
            utf8 = utf8[3..];
        }

        while (!utf8.IsEmpty)
        {
            if ((number & 0xFFF) == 0)
            {
                cancellationToken.ThrowIfCancellationRequested();
            }

            number++;
            int end = utf8.IndexOf((byte)'\n');
            ReadOnlySpan<byte> line = (end < 0 ? utf8 : utf8[..end]).TrimEnd("\r \t"u8);
            utf8 = end < 0 ? default : utf8[(end + 1)..];
            if (line.IsEmpty || line[0] is (byte)'#' or (byte)';')
            {
                continue;
            }

            string problem = string.Empty;
            ManifestEntry? entry = null;
            if (line.Length > LongestLine)
            {
                problem = $"the line has {line.Length} bytes; allowed are {LongestLine}";
            }
            else if (entries.Count >= HashManifest.MaximumEntries)
            {
                problem = $"the manifest has more than {HashManifest.MaximumEntries} files, which is the limit";
            }
            else
            {
                entry = Entry(line);
                problem = entry is null ? "the line is neither 'hash  path' nor 'NAME (path) = hash'" : string.Empty;
            }

            if (entry is not null)
            {
                entries.Add(entry);
            }
            else if (problems.Count < MostProblems)
            {
                problems.Add(new(number, 1, problem));
            }
            else
            {
                leftOff++;
            }
        }

        return new(entries.DrainToImmutable(), [.. problems], leftOff);
    }

    private static ManifestEntry? Entry(ReadOnlySpan<byte> line)
    {
        string text = Encoding.UTF8.GetString(line);
        int open = text.IndexOf(" (", StringComparison.Ordinal);
        int close = text.LastIndexOf(") = ", StringComparison.Ordinal);
        if (open > 0 && close > open && IsHash(text[(close + 4)..]))
        {
            string named = text[..open].ToLowerInvariant().Replace("-", string.Empty, StringComparison.Ordinal);
            return new(text[(open + 2)..close].Replace('\\', '/'), null, named, text[(close + 4)..]);
        }

        int space = text.IndexOf(' ', StringComparison.Ordinal);
        if (space <= 0 || !IsHash(text[..space]))
        {
            return null;
        }

        string path = text[(space + 1)..];
        path = path.StartsWith(' ') || path.StartsWith('*') ? path[1..] : path;
        return path.Length == 0 ? null : new(path.Replace('\\', '/'), null, ByLength(space), text[..space]);
    }

    private static bool IsHash(string text)
    {
        bool c4 = text.Length == 90 && text.StartsWith("c4", StringComparison.Ordinal);
        return c4 ? text.All(char.IsAsciiLetterOrDigit) : text.Length is 8 or 16 or 32 or 40 or 64 or 128 && text.All(char.IsAsciiHexDigit);
    }

    private static string ByLength(int digits) => digits switch
    {
        8 => "xxh32",
        16 => "xxh64",
        32 => "md5",
        40 => "sha1",
        64 => "sha256",
        90 => "c4",
        128 => "sha512",
        _ => string.Empty,
    };
}
