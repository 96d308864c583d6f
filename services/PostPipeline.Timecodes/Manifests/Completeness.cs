using System.Collections.Immutable;

namespace PostPipeline.Timecodes.Manifests;

/// <summary>A manifest compared with the files that are there.</summary>
/// <param name="Missing">In the manifest, not there.</param>
/// <param name="Extra">There, not in the manifest.</param>
/// <param name="Empty">There, but of zero length.</param>
/// <param name="SizeDiffers">There, of another size.</param>
/// <param name="HashDiffers">There, with another hash.</param>
/// <param name="HashesCompared">How many hashes were compared; hashes that nobody computed prove nothing.</param>
public sealed record Completeness(
    ImmutableArray<string> Missing,
    ImmutableArray<string> Extra,
    ImmutableArray<string> Empty,
    ImmutableArray<string> SizeDiffers,
    ImmutableArray<string> HashDiffers,
    int HashesCompared)
{
    /// <summary>Whether every file of the manifest is there in its size. That says nothing of its content unless hashes were compared.</summary>
    public bool IsComplete => Missing.IsEmpty && Empty.IsEmpty && SizeDiffers.IsEmpty && HashDiffers.IsEmpty;
}
