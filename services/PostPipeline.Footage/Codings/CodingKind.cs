namespace PostPipeline.Footage.Codings;

/// <summary>By which rule a coding gives bytes a frame.</summary>
public enum CodingKind
{
    /// <summary>Uncompressed values in a stated packing, with row padding and a header.</summary>
    Packed = 0,

    /// <summary>One value for each photosite, with a compression ratio or bits a photosite.</summary>
    Photosites = 1,

    /// <summary>A table gives one size for one raster.</summary>
    FixedFrame = 2,

    /// <summary>A size from the count of 16×16 blocks, for any raster.</summary>
    BlockCount = 3,

    /// <summary>A range of bits a pixel.</summary>
    BitsPerPixel = 4,

    /// <summary>A bit rate that must not be passed.</summary>
    RateLimit = 5,

    /// <summary>A bit rate that is held on average.</summary>
    BitRate = 6,

    /// <summary>The limits of the level that a raster and rate need.</summary>
    Level = 7,

    /// <summary>Scan lines of half, float or integer channels with a line table (OpenEXR).</summary>
    ScanLines = 8,
}
