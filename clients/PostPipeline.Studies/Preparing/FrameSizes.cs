namespace PostPipeline.Studies.Preparing;

/// <summary>Bytes of a frame by mode, of the mezzanine and of the master.</summary>
/// <param name="Average">By mode's name: average bytes.</param>
/// <param name="Peak">By mode's name: peak bytes.</param>
/// <param name="Mezzanine">Bytes of a frame of the mezzanine.</param>
/// <param name="Master">Bytes of a frame of the master, uncompressed RGB.</param>
public sealed record FrameSizes(IReadOnlyDictionary<string, long> Average, IReadOnlyDictionary<string, long> Peak, long Mezzanine, long Master);
