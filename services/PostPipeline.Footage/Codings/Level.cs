using PostPipeline.Quantities;

namespace PostPipeline.Footage.Codings;

/// <summary>One level of a video coding standard: what it carries and the most bits a second by profile.</summary>
public sealed class Level
{
    private readonly int shift;
    private readonly string[] profiles;
    private readonly long[] bitsPerSecond;

    /// <summary>Creates a level.</summary>
    /// <param name="name">As the standard writes it.</param>
    /// <param name="shift">Side of the unit that is counted, as a power of two: 4 for macroblocks, 0 for samples.</param>
    /// <param name="components">Components counted: 1 for luma.</param>
    /// <param name="maximumSize">Units a frame.</param>
    /// <param name="maximumRate">Units a second.</param>
    /// <param name="profiles">The profiles or tiers of the table.</param>
    /// <param name="bitsPerSecond">The most bits a second in each.</param>
    internal Level(string name, int shift, int components, long maximumSize, long maximumRate, string[] profiles, long[] bitsPerSecond) =>
        (Name, this.shift, Components, MaximumSize, MaximumRate, this.profiles, this.bitsPerSecond) = (name, shift, components, maximumSize, maximumRate, profiles, bitsPerSecond);

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
            string units = shift == 4 ? "blocks of 16×16" : "samples";
            return MaximumSize == long.MaxValue / 8 ? $"{MaximumRate} {units} a second" : $"{MaximumSize} {units} a frame and {MaximumRate} a second";
        }
    }

    private int Components { get; }

    /// <summary>The most bits a second in the profile that stands at this place in the table.</summary>
    internal long BitsPerSecondAt(int place) => bitsPerSecond[place];

    /// <summary>The most bits a second in a profile; 0 where the level does not have that profile.</summary>
    /// <param name="profile">A profile or tier of the table.</param>
    /// <exception cref="ArgumentException">The table does not have that profile.</exception>
    public long BitsPerSecond(string profile)
    {
        int place = Array.IndexOf(profiles, profile);
        return place >= 0 ? bitsPerSecond[place] : throw new ArgumentException($"The profile is '{profile}'; allowed are {string.Join(", ", profiles)}.", nameof(profile));
    }

    /// <summary>Whether raster and rate fit.</summary>
    /// <param name="raster">The coded raster.</param>
    /// <param name="rate">Frames a second.</param>
    public bool Carries(Raster raster, FrameRate rate)
    {
        // A shift and not a division: every level below the one that carries a mode is asked.
        long width = (raster.Width + (1 << shift) - 1) >> shift;
        long height = (raster.Height + (1 << shift) - 1) >> shift;
        long size = width * height * Components;

        // No side above √(8 × the frame size): H.264 A.3.1 (f, g), H.265 A.4.1 (b, c). A side is at most 65,535.
        return size <= MaximumSize
            && width * width <= MaximumSize * 8 && height * height <= MaximumSize * 8
            && (Int128)size * rate.Numerator <= (Int128)MaximumRate * rate.Denominator;
    }
}
