using System.Collections.Immutable;

namespace PostPipeline.Timecodes.Manifests;

/// <summary>A list of files with their hashes, as a copy program leaves it beside them.</summary>
/// <param name="Entries">The files.</param>
/// <param name="Problems">What was not understood.</param>
/// <param name="ProblemsLeftOff">How many further problems were met beyond those listed.</param>
public sealed record HashManifest(ImmutableArray<ManifestEntry> Entries, ImmutableArray<ManifestProblem> Problems, int ProblemsLeftOff)
{
    /// <summary>The most files of a manifest.</summary>
    public const int MaximumEntries = 1_000_000;

    /// <summary>
    /// Reads a manifest: an XML hash list (the open ASC MHL form, first and second version), or plain checksum text
    /// (a hash, two spaces, a path; or NAME (path) = hash).
    /// </summary>
    /// <param name="utf8">The file's bytes.</param>
    /// <param name="cancellationToken">Ends the reading early.</param>
    public static HashManifest Read(ReadOnlySpan<byte> utf8, CancellationToken cancellationToken = default)
    {
        ReadOnlySpan<byte> start = utf8.TrimStart("\uFEFF \t\r\n"u8);
        return start.StartsWith("<"u8) ? HashListXml.Read(utf8, cancellationToken) : ChecksumText.Read(utf8, cancellationToken);
    }

    /// <summary>Compares the manifest with the files that are there.</summary>
    /// <param name="files">Paths and sizes of the files.</param>
    public Completeness CompareWith(IEnumerable<FoundFile> files)
    {
        Dictionary<string, ManifestEntry> wanted = new(StringComparer.OrdinalIgnoreCase);
        foreach (ManifestEntry entry in Entries)
        {
            wanted.TryAdd(Normal(entry.Path), entry);
        }

        ImmutableArray<string>.Builder extra = ImmutableArray.CreateBuilder<string>();
        ImmutableArray<string>.Builder empty = ImmutableArray.CreateBuilder<string>();
        ImmutableArray<string>.Builder size = ImmutableArray.CreateBuilder<string>();
        ImmutableArray<string>.Builder hash = ImmutableArray.CreateBuilder<string>();
        HashSet<string> seen = new(StringComparer.OrdinalIgnoreCase);
        int compared = 0;
        foreach (FoundFile file in files)
        {
            string path = Normal(file.Path);
            if (!wanted.TryGetValue(path, out ManifestEntry? entry))
            {
                extra.Add(file.Path);
                continue;
            }

            seen.Add(path);
            if (file.SizeBytes == 0)
            {
                empty.Add(file.Path);
            }
            else if (entry.SizeBytes is { } expected && expected != file.SizeBytes)
            {
                size.Add(file.Path);
            }

            if (file.Hash is { Length: > 0 } found)
            {
                compared++;
                if (!found.Equals(entry.Hash, StringComparison.OrdinalIgnoreCase))
                {
                    hash.Add(file.Path);
                }
            }
        }

        return new(
            [.. wanted.Where(w => !seen.Contains(w.Key)).Select(w => w.Value.Path).Order(StringComparer.Ordinal)],
            extra.DrainToImmutable(),
            empty.DrainToImmutable(),
            size.DrainToImmutable(),
            hash.DrainToImmutable(),
            compared);
    }

    private static string Normal(string path)
    {
        string slashes = path.Replace('\\', '/');
        return slashes.StartsWith("./", StringComparison.Ordinal) ? slashes[2..] : slashes;
    }
}
