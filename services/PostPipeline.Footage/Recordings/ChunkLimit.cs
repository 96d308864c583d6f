using PostPipeline.Quantities;

namespace PostPipeline.Footage.Recordings;

/// <summary>The largest file that a recorder writes before it starts the next chunk.</summary>
public readonly record struct ChunkLimit
{
    private ChunkLimit(long bytes, int group) => (Bytes, FramesPerGroup) = (bytes, group);

    /// <summary>FAT32: a file has at most 2³²−1 bytes.</summary>
    public static ChunkLimit Fat32 => new((1L << 32) - 1, 1);

    /// <summary>exFAT: a file has at most 2⁶⁴−1 bytes; sizes here end at 2⁶³−1 bytes, so in practice there is no limit.</summary>
    public static ChunkLimit ExFat => new(long.MaxValue, 1);

    /// <summary>Bytes a file.</summary>
    public long Bytes { get; }

    /// <summary>Frames of a group that cannot be cut; 1 where every frame stands alone.</summary>
    public int FramesPerGroup { get; }

    /// <summary>A recorder's own limit.</summary>
    /// <param name="size">Above zero, such as 4, 8 or 16 GB.</param>
    /// <param name="framesPerGroup">1 to 10,000.</param>
    public static ChunkLimit From(DataSize size, int framesPerGroup = 1) =>
        new(Guard.InRange(size.Bytes, 1, long.MaxValue), Guard.InRange(framesPerGroup, 1, 10_000));

    /// <summary>The same size, cut at group borders only.</summary>
    /// <param name="framesPerGroup">1 to 10,000.</param>
    public ChunkLimit WithGroups(int framesPerGroup) => new(Bytes, Guard.InRange(framesPerGroup, 1, 10_000));
}
