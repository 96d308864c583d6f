using System.Globalization;

namespace PostPipeline.Testing;

/// <summary>
/// How light a colour is when its hue is taken away: relative luminance as WCAG 2.2 defines it (0.2126 R + 0.7152 G + 0.0722 B
/// of the linear channels of IEC 61966-2-1), and the contrast of two colours, 1 to 21.
/// </summary>
public static class Luminance
{
    /// <summary>What two parts of a picture need to be told apart by lightness alone: 3:1 (WCAG 2.2, success criterion 1.4.11).</summary>
    public const double Apart = 3;

    /// <summary>The relative luminance of a colour on white paper, 0 (black) to 1 (white).</summary>
    /// <param name="color">#RRGGBB or rgba(r,g,b,a).</param>
    public static double Of(string color) => Of(On(color, (255, 255, 255)));

    /// <summary>(lighter + 0.05) ÷ (darker + 0.05).</summary>
    /// <param name="one">A colour on white paper.</param>
    /// <param name="other">Another.</param>
    public static double Contrast(string one, string other) => Contrast(Of(one), Of(other));

    /// <summary>The colour that is seen where one lies over another.</summary>
    /// <param name="over">The colour on top, often see-through.</param>
    /// <param name="ground">The colour below, on white paper.</param>
    public static string Over(string over, string ground)
    {
        (double r, double g, double b) = On(over, On(ground, (255, 255, 255)));
        return string.Create(CultureInfo.InvariantCulture, $"rgba({r:R},{g:R},{b:R},1)");
    }

    private static double Contrast(double one, double other) => (Math.Max(one, other) + 0.05) / (Math.Min(one, other) + 0.05);

    private static double Of((double R, double G, double B) color)
    {
        static double Linear(double channel) => channel / 255 is var v && v <= 0.04045 ? v / 12.92 : Math.Pow((v + 0.055) / 1.055, 2.4);
        return (0.2126 * Linear(color.R)) + (0.7152 * Linear(color.G)) + (0.0722 * Linear(color.B));
    }

    private static (double R, double G, double B) On(string color, (double R, double G, double B) ground)
    {
        if (color.StartsWith('#'))
        {
            int Channel(int at) => int.Parse(color.AsSpan(at, 2), NumberStyles.HexNumber, CultureInfo.InvariantCulture);
            return (Channel(1), Channel(3), Channel(5));
        }

        double[] parts = [.. color[(color.IndexOf('(', StringComparison.Ordinal) + 1)..^1].Split(',').Select(p => double.Parse(p, CultureInfo.InvariantCulture))];
        double share = parts.Length > 3 ? parts[3] : 1;
        double Mix(double over, double below) => (share * over) + ((1 - share) * below);
        return (Mix(parts[0], ground.R), Mix(parts[1], ground.G), Mix(parts[2], ground.B));
    }
}
