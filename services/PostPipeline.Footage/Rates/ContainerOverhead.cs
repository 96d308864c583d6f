using PostPipeline.Quantities;

namespace PostPipeline.Footage.Rates;

/// <summary>What a container adds: bytes for each frame (index entry, wrapping) and bytes once for each file.</summary>
public readonly record struct ContainerOverhead
{
    private ContainerOverhead(long bytesPerFrame, long bytesPerFile) => (BytesPerFrame, BytesPerFile) = (bytesPerFrame, bytesPerFile);

    /// <summary>Nothing added.</summary>
    public static ContainerOverhead None => default;

    /// <summary>Bytes for each frame.</summary>
    public long BytesPerFrame { get; }

    /// <summary>Bytes once for each file.</summary>
    public long BytesPerFile { get; }

    /// <summary>Creates an overhead.</summary>
    /// <param name="bytesPerFrame">0 to 1 GiB.</param>
    /// <param name="bytesPerFile">0 to 1 GiB.</param>
    public static ContainerOverhead From(long bytesPerFrame, long bytesPerFile) =>
        new(Guard.InRange(bytesPerFrame, 0, 1L << 30), Guard.InRange(bytesPerFile, 0, 1L << 30));
}
