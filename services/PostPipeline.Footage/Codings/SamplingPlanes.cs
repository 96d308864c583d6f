using PostPipeline.Quantities;

namespace PostPipeline.Footage.Codings;

/// <summary>How many values a raster has under a sampling; odd sides round the colour-difference planes up (ITU-T H.273).</summary>
internal static class SamplingPlanes
{
    /// <summary>Values a frame.</summary>
    public static long Values(Sampling sampling, Raster raster, bool alpha)
    {
        long full = raster.Pixels;
        long values = sampling switch
        {
            Sampling.Photosites or Sampling.Luma400 => full,
            Sampling.Chroma420 => full + (2 * (long)Halves(raster.Width) * Halves(raster.Height)),
            Sampling.Chroma411 => full + (2 * ((raster.Width + 3L) / 4) * raster.Height),
            Sampling.Chroma422 => full + (2L * Halves(raster.Width) * raster.Height),
            Sampling.Full444 => 3 * full,
            _ => throw new ArgumentOutOfRangeException(nameof(sampling), sampling, "This sampling is not known."),
        };
        return alpha ? values + full : values;
    }

    /// <summary>Values in one row of all planes together; only for samplings that keep every row.</summary>
    public static long ValuesInRow(Sampling sampling, int width, bool alpha)
    {
        long values = sampling switch
        {
            Sampling.Photosites or Sampling.Luma400 => width,
            Sampling.Chroma411 => width + (2 * ((width + 3L) / 4)),
            Sampling.Chroma422 => width + (2L * Halves(width)),
            Sampling.Full444 => 3L * width,
            _ => throw new ArgumentOutOfRangeException(nameof(sampling), sampling, "This sampling has no rows with all values."),
        };
        return alpha ? values + width : values;
    }

    /// <summary>Values a pixel without regard to odd sides: 1, 1.5, 2 or 3, and one more for alpha.</summary>
    public static Rational PerPixel(Sampling sampling, bool alpha)
    {
        Rational values = sampling switch
        {
            Sampling.Photosites or Sampling.Luma400 => Rational.One,
            Sampling.Chroma420 or Sampling.Chroma411 => new Rational(3, 2),
            Sampling.Chroma422 => Rational.FromInteger(2),
            _ => Rational.FromInteger(3),
        };
        return alpha ? values + 1 : values;
    }

    /// <summary>Half of a side, up.</summary>
    public static int Halves(int side) => (side + 1) / 2;
}
