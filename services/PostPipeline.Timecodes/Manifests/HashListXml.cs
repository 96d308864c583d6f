using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using System.Xml;

namespace PostPipeline.Timecodes.Manifests;

/// <summary>
/// XML hash lists. The second version of the open ASC form has hash elements with a path element (size as attribute)
/// and one element a hash; the first has file, size and one element a hash. Element names from memory.
/// </summary>
internal static class HashListXml
{
    private const int MostProblems = 1_000;

    private static readonly HashSet<string> Algorithms = new(StringComparer.Ordinal)
    {
        "md5", "sha1", "sha256", "sha512", "c4", "xxh32", "xxh64", "xxh3", "xxh128", "xxhash", "xxhash64", "xxhash64be",
    };

    public static HashManifest Read(ReadOnlySpan<byte> utf8, CancellationToken cancellationToken)
    {
        ImmutableArray<ManifestEntry>.Builder entries = ImmutableArray.CreateBuilder<ManifestEntry>();
        List<ManifestProblem> problems = [];
        int leftOff = 0;
        using MemoryStream stream = new(utf8.ToArray(), writable: false);

        // Decoded here and strictly: the XML reader's own change of encoding faults on some bytes in a declaration.
        using StreamReader text = new(stream, new UTF8Encoding(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true));

        // No DTD, no entities, nothing fetched: a manifest comes from a stranger's disk.
        XmlReaderSettings settings = new() { DtdProcessing = DtdProcessing.Prohibit, XmlResolver = null, IgnoreComments = true, IgnoreWhitespace = true, MaxCharactersInDocument = 1L << 30 };
        try
        {
            using XmlReader reader = XmlReader.Create(text, settings);
            string? path = null;
            long? size = null;
            (string Algorithm, string? Value) hash = (string.Empty, null);
            bool inHash = false;
            while (reader.Read())
            {
                cancellationToken.ThrowIfCancellationRequested();
                if (reader.NodeType == XmlNodeType.Element && reader.LocalName == "hash")
                {
                    (inHash, path, size, hash) = (!reader.IsEmptyElement, null, null, (string.Empty, null));
                }
                else if (reader.NodeType == XmlNodeType.EndElement && reader.LocalName == "hash")
                {
                    inHash = false;
                    if (path is null || hash.Value is null)
                    {
                        Report(reader, path is null ? "a hash element has no path" : $"'{path}' has no hash of a known kind");
                    }
                    else if (entries.Count < HashManifest.MaximumEntries)
                    {
                        entries.Add(new(path, size, hash.Algorithm, hash.Value));
                    }
                    else
                    {
                        Report(reader, $"the manifest has more than {HashManifest.MaximumEntries} files, which is the limit");
                    }
                }
                else if (inHash && reader.NodeType == XmlNodeType.Element && reader.LocalName is "path" or "file")
                {
                    size ??= Size(reader.GetAttribute("size"));
                    path = Content(reader).Replace('\\', '/');
                }
                else if (inHash && reader.NodeType == XmlNodeType.Element && reader.LocalName == "size")
                {
                    size = Size(Content(reader));
                }
                else if (inHash && reader.NodeType == XmlNodeType.Element && Algorithms.Contains(reader.LocalName) && hash.Value is null)
                {
                    string algorithm = reader.LocalName;
                    hash = (algorithm, Content(reader).Trim());
                }
            }
        }
        catch (XmlException failure)
        {
            problems.Add(new(Math.Max(1, failure.LineNumber), Math.Max(1, failure.LinePosition), "the text is not well-formed XML, or declares a document type, which is refused"));
        }

        catch (DecoderFallbackException)
        {
            problems.Add(new(1, 1, "the text is not UTF-8; an XML hash list is"));
        }

        return new(entries.DrainToImmutable(), [.. problems], leftOff);

        void Report(XmlReader reader, string message)
        {
            IXmlLineInfo place = (IXmlLineInfo)reader;
            if (problems.Count < MostProblems)
            {
                problems.Add(new(place.LineNumber, place.LinePosition, message));
            }
            else
            {
                leftOff++;
            }
        }
    }

    private static string Content(XmlReader reader)
    {
        if (reader.IsEmptyElement)
        {
            return string.Empty;
        }

        // Stops in front of the end element, so that the loop sees the next element too.
        string text = string.Empty;
        int depth = reader.Depth;
        while (reader.Read() && reader.Depth > depth)
        {
            if (reader.NodeType is XmlNodeType.Text or XmlNodeType.CDATA or XmlNodeType.SignificantWhitespace)
            {
                text += reader.Value;
            }
        }

        return text;
    }

    private static long? Size(string? text) =>
        long.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out long size) ? size : null;
}
