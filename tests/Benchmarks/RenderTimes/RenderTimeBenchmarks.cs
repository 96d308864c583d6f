using PostPipeline.Domain.Tests.RenderTimes;
using PostPipeline.RenderTimes.Regression;
using Xunit;

namespace PostPipeline.Benchmarks.RenderTimes;

/// <summary>
/// Render times: how far predictions are off on whole videos and machines never seen, what a few own rows change, how long
/// choice, fit and calibration of five folds take, and the digits of least squares against NIST's certified values.
/// </summary>
internal static class RenderTimeBenchmarks
{
    private const double MostSeconds = 180;
    private const double MostMeanPercent = 12.9;
    private const double MostMedianPercent = 9.2;
    private const double MostAfterFive = 8.5;

    // Degree of the polynomial (0: the columns as they stand) and the digits that R 4.2.2 lm reaches, where it was run.
    private static readonly (string Name, int Degree, double Required, string Beside)[] Nist =
    [
        ("Norris", 1, 12, "12.5"), ("Pontius", 2, 12, "–"), ("NoInt1", 1, 12, "–"), ("NoInt2", 1, 12, "–"), ("Longley", 0, 12, "13.0"),
        ("Wampler1", 5, 12, "9.8"), ("Wampler2", 5, 12, "13.6"), ("Wampler3", 5, 12, "9.3"), ("Wampler4", 5, 9, "7.5"), ("Wampler5", 5, 9, "5.5"), ("Filip", 10, 0, "–"),
    ];

    /// <summary>Runs the area.</summary>
    /// <param name="args">None.</param>
    /// <returns>0, or 1 where a promise is not kept or the data to measure it is absent.</returns>
    public static int Run(string[] args)
    {
        try
        {
            bool met = Digits();
            met &= Videos();
            foreach (string line in HeldOutTrial.Lines("machines left out one at a time", HeldOutTrial.Machines(int.MaxValue)))
            {
                Console.WriteLine(line);
            }

            return met ? 0 : 1;
        }
        catch (SkipException absent)
        {
            Console.WriteLine($"not measured: {absent.Message}");
            return 1;
        }
    }

    private static bool Digits()
    {
        bool met = true;
        foreach ((string name, int degree, double required, string beside) in Nist)
        {
            (LeastSquaresFit fit, NistReference.NistFile file) = NistReference.Fit(name, degree);
            double digits = NistReference.Digits(fit.Coefficients, file.Coefficients);
            met &= digits >= required;
            Console.WriteLine(FormattableString.Invariant($"NIST {name,-9} {digits,5:F1} correct digits, R 4.2.2 lm {beside}{(required > 0 ? FormattableString.Invariant($"; at least {required:F0} are promised") : "; reported only")}"));
        }

        return met;
    }

    private static bool Videos()
    {
        HeldOutTrial.Tally tally = HeldOutTrial.Videos(5, Console.WriteLine);
        foreach (string line in HeldOutTrial.Lines("videos, five folds", tally))
        {
            Console.WriteLine(line);
        }

        double mean = tally.Errors().MeanPercent;
        double median = tally.Errors().MedianPercent;
        (double low, double high) = tally.Bootstrap();
        bool met = tally.Training.TotalSeconds <= MostSeconds && mean < MostMeanPercent && median < MostMedianPercent && tally.After[5].Average() <= MostAfterFive
            && tally.Covered.Average() is >= 0.88 and <= 0.92 && low <= 0.9 && high >= 0.9;
        Console.WriteLine(FormattableString.Invariant(
            $"  promised: at most {MostSeconds:F0} s on 2 cores, MAPE below {MostMeanPercent} %, median below {MostMedianPercent} %, at most {MostAfterFive} % after 5 own rows, coverage 88 to 92 %: {(met ? "kept" : "NOT KEPT")}"));
        return met;
    }
}
