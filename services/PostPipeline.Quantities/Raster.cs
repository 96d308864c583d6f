namespace PostPipeline.Quantities;

/// <summary>Width and height of a picture in pixels (for one-value-per-photosite raw: in photosites).</summary>
public readonly record struct Raster
{
    /// <summary>The largest width or height accepted, in pixels.</summary>
    public const int MaximumSide = 65_535;

    private Raster(int width, int height) => (Width, Height) = (width, height);

    /// <summary>Pixels across.</summary>
    public int Width { get; }

    /// <summary>Pixels down.</summary>
    public int Height { get; }

    /// <summary>Width times height.</summary>
    public long Pixels => (long)Width * Height;

    /// <summary>Creates a raster.</summary>
    /// <param name="width">1 to <see cref="MaximumSide"/> pixels.</param>
    /// <param name="height">1 to <see cref="MaximumSide"/> pixels.</param>
    /// <exception cref="ArgumentOutOfRangeException">A side lies outside that range.</exception>
    public static Raster From(int width, int height) =>
        new(Guard.InRange(width, 1, MaximumSide), Guard.InRange(height, 1, MaximumSide));

    /// <summary>Reads <c>4096x2160</c> (also with ×).</summary>
    /// <param name="text">Width, x or ×, height.</param>
    /// <param name="raster">The raster, or <c>default</c>.</param>
    public static bool TryParse(ReadOnlySpan<char> text, out Raster raster)
    {
        raster = default;
        int cross = text.IndexOfAny('x', '×', 'X');
        if (cross < 0
            || !int.TryParse(text[..cross].Trim(), out int width) || !int.TryParse(text[(cross + 1)..].Trim(), out int height)
            || width is < 1 or > MaximumSide || height is < 1 or > MaximumSide)
        {
            return false;
        }

        raster = new(width, height);
        return true;
    }

    /// <summary><c>4096×2160</c>.</summary>
    public override string ToString() => $"{Width}×{Height}";
}
