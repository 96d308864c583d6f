using System.Globalization;

namespace PostPipeline.Cli.Commands.Footage;

/// <summary>What only the command line prints of amounts; the rest is printed as everywhere in the suite.</summary>
internal static class Printed
{
    /// <summary>Bytes in the decimal and in the binary unit, and how far the two lie apart (IEC 80000-13).</summary>
    public static string BothUnits(long bytes)
    {
        int power = bytes >= 1_000_000_000_000_000 ? 5 : bytes >= 1_000_000_000_000 ? 4 : bytes >= 1_000_000_000 ? 3 : 2;
        char prefix = " KMGTP"[power];
        double apart = Math.Pow(1.024, power) - 1;
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{bytes / Math.Pow(1000, power):0.##} {prefix}B = {bytes / Math.Pow(1024, power):0.##} {prefix}iB: one {prefix}iB is {apart * 100:0.00} % more than one {prefix}B");
    }
}
