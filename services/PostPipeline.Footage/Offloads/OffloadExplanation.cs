using PostPipeline.Quantities;

namespace PostPipeline.Footage.Offloads;

/// <summary>The tree behind the time of one card: copy, check, files ← links of the chain ← rates.</summary>
public static class OffloadExplanation
{
    /// <summary>Explains the time of a card on a rested station.</summary>
    /// <param name="means">The stations.</param>
    /// <param name="bytes">Bytes on the card.</param>
    /// <param name="files">Files on it.</param>
    public static Derivation Of(OffloadMeans means, long bytes, long files)
    {
        CopyChain chain = new(means);
        CardTimes times = chain.Times(bytes, files);
        Derivation size = Derivation.Input("bytes on the card", bytes.ToString(), "B");
        List<Derivation> parts =
        [
            new()
            {
                Name = "copy",
                Formula = files > 0 && means.SecondsPerFile > 0 ? "S ÷ slowest link + files × cost of a file" : "S ÷ slowest link",
                Substituted = $"{bytes} ÷ {chain.BindingLink.BytesPerSecond:0} ({chain.BindingLink.Name}), fast parts first",
                Value = times.CopySeconds.ToString("0.###"),
                Unit = "s",
                BindingLimit = chain.BindingLink.Name,
                NextLimit = chain.NextLink?.Name ?? string.Empty,
                Inputs = [size, .. chain.CopyLinks.Select(Link), .. Files(means, files)],
            },
        ];
        if (means.Verify >= VerifyLevel.Destinations)
        {
            ChainLink slowest = chain.VerifyLinks[0];
            bool source = means.Verify == VerifyLevel.SourceAndDestinations;
            parts.Add(new()
            {
                Name = $"check: {Words(means.Verify)}",
                Formula = source ? "S ÷ slowest read + S ÷ reader" : "S ÷ slowest read",
                Substituted = $"{bytes} ÷ {slowest.BytesPerSecond:0} ({slowest.Name}){(source ? $" + {bytes} ÷ {means.ReaderBytesPerSecond:0}" : string.Empty)}",
                Value = times.VerifySeconds.ToString("0.###"),
                Unit = "s",
                BindingLimit = slowest.Name,
                NextLimit = chain.VerifyLinks.Count > 1 ? chain.VerifyLinks[1].Name : string.Empty,
                Inputs = [size, .. chain.VerifyLinks.Select(Link)],
            });
        }

        if (times.CascadeCopySeconds > 0)
        {
            parts.Add(new()
            {
                Name = "copies from the first destination, checked",
                Formula = "S ÷ slowest link + S ÷ slowest read; the reader is free meanwhile",
                Value = (times.CascadeCopySeconds + times.CascadeVerifySeconds).ToString("0.###"),
                Unit = "s",
                Inputs = [size, .. means.Destinations.Where(d => d.Cascaded).Select(d => Link(new(d.Name, d.SustainedBytesPerSecond)))],
            });
        }

        return new()
        {
            Name = "time of a full card at a rested station",
            Formula = "copy + check",
            Substituted = string.Join(" + ", parts.Select(p => p.Value)),
            Value = times.TotalSeconds.ToString("0.###"),
            Unit = "s",
            Source = "common practice, no source",
            BindingLimit = chain.BindingLink.Name,
            NextLimit = chain.NextLink?.Name ?? string.Empty,
            Inputs = parts,
        };
    }

    /// <summary>The level in words, as it stands on every sheet.</summary>
    /// <param name="level">A level.</param>
    public static string Words(VerifyLevel level) => level switch
    {
        VerifyLevel.None => "none",
        VerifyLevel.Sizes => "sizes",
        VerifyLevel.Destinations => "destinations re-read",
        VerifyLevel.SourceAndDestinations => "source and destinations re-read",
        _ => "compared with hashes that the camera wrote",
    };

    private static Derivation Link(ChainLink link) => Derivation.Input(link.Name, link.BytesPerSecond.ToString("0.###"), "B/s");

    private static Derivation[] Files(OffloadMeans means, long files) =>
        files > 0 && means.SecondsPerFile > 0
            ? [Derivation.Input("files", files.ToString()), Derivation.Input("cost of a file", means.SecondsPerFile.ToString("0.######"), "s")]
            : [];
}
