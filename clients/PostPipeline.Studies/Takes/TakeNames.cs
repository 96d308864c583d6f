using System.Globalization;

namespace PostPipeline.Studies.Takes;

/// <summary>
/// Names of planned clips and reels: camera letter, reel number, clip number, in capitals and digits, the
/// distinguishing part first (common practice, no source).
/// </summary>
internal static class TakeNames
{
    public static string Reel(string letter, int day) =>
        string.Create(CultureInfo.InvariantCulture, $"{letter.ToUpperInvariant()}{day + 1:000}");

    public static string Clip(string letter, int day, int number) =>
        string.Create(CultureInfo.InvariantCulture, $"{Reel(letter, day)}C{number:0000}");
}
