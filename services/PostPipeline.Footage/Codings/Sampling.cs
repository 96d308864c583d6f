namespace PostPipeline.Footage.Codings;

/// <summary>Which values a picture carries for a pixel: one for a photosite, luma alone, or luma and colour difference.</summary>
public enum Sampling
{
    /// <summary>One value for each photosite, before colour is worked out.</summary>
    Photosites = 0,

    /// <summary>4:0:0, luma or one grey value.</summary>
    Luma400 = 1,

    /// <summary>4:2:0, colour difference halved across and down.</summary>
    Chroma420 = 2,

    /// <summary>4:1:1, colour difference quartered across.</summary>
    Chroma411 = 3,

    /// <summary>4:2:2, colour difference halved across.</summary>
    Chroma422 = 4,

    /// <summary>4:4:4, three values a pixel (RGB, or luma and full colour difference).</summary>
    Full444 = 5,
}
