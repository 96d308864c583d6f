namespace PostPipeline.Footage.Codings;

/// <summary>What kind of knowledge a frame size is.</summary>
public enum SizeCertainty
{
    /// <summary>A standard or a fixed layout gives every byte.</summary>
    Exact = 0,

    /// <summary>Someone stated it: a compression ratio, bits a pixel, a bit rate.</summary>
    Stated = 1,

    /// <summary>A range seen in measurements; the next picture may lie outside.</summary>
    Measured = 2,

    /// <summary>A limit that a standard sets; what is written may be smaller.</summary>
    Limit = 3,
}
