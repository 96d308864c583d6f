using PostPipeline.Quantities;

namespace PostPipeline.Footage.Codings;

/// <summary>One level of a video coding standard: what it carries and the most bits a second by profile.</summary>
public sealed class Level
{
    private readonly long unit;
    private readonly IReadOnlyDictionary<string, long> bitsPerSecond;

    /// <summary>Creates a level.</summary>
    /// <param name="name">As the standard writes it.</param>
    /// <param name="unit">Side of the unit that is counted: 16 for macroblocks, 1 for samples.</param>
    /// <param name="components">Components counted: 1 for luma.</param>
    /// <param name="maximumSize">Units a frame.</param>
    /// <param name="maximumRate">Units a second.</param>
    /// <param name="bitsPerSecond">The most bits a second, by profile.</param>
    internal Level(string name, long unit, int components, long maximumSize, long maximumRate, IReadOnlyDictionary<string, long> bitsPerSecond) =>
        (Name, this.unit, Components, MaximumSize, MaximumRate, this.bitsPerSecond) = (name, unit, components, maximumSize, maximumRate, bitsPerSecond);

    /// <summary>As the standard writes it.</summary>
    public string Name { get; }

    /// <summary>The most units (blocks of 16×16, or samples) a frame.</summary>
    public long MaximumSize { get; }

    /// <summary>The most units a second.</summary>
    public long MaximumRate { get; }

    /// <summary>What the level carries, in words.</summary>
    public string LimitInWords
    {
        get
        {
            string units = unit == 16 ? "blocks of 16×16" : "samples";
            return MaximumSize == long.MaxValue / 8 ? $"{MaximumRate} {units} a second" : $"{MaximumSize} {units} a frame and {MaximumRate} a second";
        }
    }

    private int Components { get; }

    /// <summary>The most bits a second in a profile; 0 where the level does not have that profile.</summary>
    /// <param name="profile">A profile or tier of the table.</param>
    public long BitsPerSecond(string profile) => bitsPerSecond[profile];

    /// <summary>Whether raster and rate fit.</summary>
    /// <param name="raster">The coded raster.</param>
    /// <param name="rate">Frames a second.</param>
    public bool Carries(Raster raster, FrameRate rate)
    {
        long width = (raster.Width + unit - 1) / unit;
        long height = (raster.Height + unit - 1) / unit;
        long size = width * height * Components;

        // No side above √(8 × the frame size): H.264 A.3.1 (f, g), H.265 A.4.1 (b, c). A side is at most 65,535.
        return size <= MaximumSize
            && width * width <= MaximumSize * 8 && height * height <= MaximumSize * 8
            && (Int128)size * rate.Numerator <= (Int128)MaximumRate * rate.Denominator;
    }
}
