namespace PostPipeline.Notebooks.Charts;

/// <summary>
/// The colours, dashes, markers and hatches of every chart.
/// The hues are the eight of Okabe and Ito (2008), chosen to stay apart for colour-blind readers; each series also has a
/// dash, a marker and a hatch of its own, so that it stays apart in grey.
/// </summary>
public static class Palette
{
    /// <summary>Lines, text and limits. The page swaps this one value for a light one in dark mode.</summary>
    public const string Ink = "#1b1b1b";

    /// <summary>Grid lines; swapped in dark mode.</summary>
    public const string Grid = "#dcdcdc";

    /// <summary>Secondary text, at least 4.5:1 against the paper; swapped in dark mode.</summary>
    public const string Quiet = "#555555";

    /// <summary>The background behind a label that lies on data; swapped in dark mode.</summary>
    public const string Paper = "#fffffe";

    /// <summary>Vermillion, kept for limits that are passed and for what fails.</summary>
    public const string Alarm = "#D55E00";

    /// <summary>How much of a hue an area may have on which text of <see cref="Ink"/> lies, in light and in dark.</summary>
    public const double UnderText = 0.4;

    private static readonly string[] Hues = ["#0072B2", "#E69F00", "#009E73", "#CC79A7", "#56B4E9", "#F0E442", "#D55E00"];
    private static readonly string[] Dashes = ["solid", "dash", "dot", "dashdot", "longdash", "longdashdot", "12px,3px,2px,3px,2px,3px"];
    private static readonly string[] Markers = ["circle", "square", "diamond", "triangle-up", "cross", "x", "star"];
    private static readonly string[] Hatches = ["", "/", ".", "x", "\\", "-", "+"];

    /// <summary>The hue of a series, as #RRGGBB.</summary>
    /// <param name="series">0 or more; hues repeat after seven.</param>
    public static string Hue(int series) => Hues[series % Hues.Length];

    /// <summary>The hue of a series made see-through, for areas and bands.</summary>
    /// <param name="series">0 or more.</param>
    /// <param name="opacity">0 (nothing) to 1 (solid).</param>
    public static string Wash(int series, double opacity)
    {
        string hue = Hue(series);
        int Channel(int at) => Convert.ToInt32(hue.Substring(at, 2), 16);
        return string.Create(System.Globalization.CultureInfo.InvariantCulture, $"rgba({Channel(1)},{Channel(3)},{Channel(5)},{opacity:0.##})");
    }

    /// <summary>Black or white, whichever reads on the hue of a series (at least 4.5:1).</summary>
    /// <param name="series">0 or more.</param>
    public static string TextOn(int series) => series % Hues.Length == 0 ? "#ffffff" : "#000000";

    /// <summary>The line style of a series.</summary>
    /// <param name="series">0 or more.</param>
    public static string Dash(int series) => Dashes[series % Dashes.Length];

    /// <summary>The marker of a series.</summary>
    /// <param name="series">0 or more.</param>
    public static string Marker(int series) => Markers[series % Markers.Length];

    /// <summary>The hatch of a filled series; empty for the first.</summary>
    /// <param name="series">0 or more.</param>
    public static string Hatch(int series) => Hatches[(series + (series / Hues.Length)) % Hatches.Length];

    /// <summary>
    /// The ink of a hatch: white, so that black text stays legible on it; black where the hue itself is nearly white, or where
    /// the text on it is white.
    /// </summary>
    /// <param name="series">0 or more.</param>
    public static string HatchInk(int series) => (series % Hues.Length) switch
    {
        0 => "rgba(0,0,0,0.7)",
        5 => "rgba(0,0,0,0.4)",
        _ => "rgba(255,255,255,0.85)",
    };

    /// <summary>The hatch of a filled series as the charting library takes it; the hatches of the second seven are coarser and heavier.</summary>
    /// <param name="series">0 or more.</param>
    internal static object Pattern(int series) => new { shape = Hatch(series), fgcolor = HatchInk(series), fillmode = "overlay", size = series < Hues.Length ? 8 : 12, solidity = series < Hues.Length ? 0.3 : 0.4 };
}
