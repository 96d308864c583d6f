using System.Globalization;
using PostPipeline.Embedded;
using PostPipeline.Studies;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Inputs;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Preparing;
using PostPipeline.Studies.WhatIfs;

namespace PostPipeline.Benchmarks.Studies;

/// <summary>
/// Draws of the demonstration after the calls are made: three pipelines with P10, P50 and P90 of their scalars, what each
/// hybrid adds, where the time goes, a cell of a sweep, and a whole sweep that is killed and goes on. Ends with 1 where a limit is not kept.
/// </summary>
internal static class StudiesBenchmarks
{
    private const int Draws = 10_000;
    private const double MostMilliseconds = 250;
    private const double MostMoreMilliseconds = 80;
    private static readonly string[] Hybrids = ["native-cached", "transcode-selects", "transcode-off-speed", "proxy-in-post", "proxy-remote"];

    public static int Run(string[] arguments)
    {
        if (arguments is [SweepBenchmark.ChildWord, string shared, string record, string cells, string count])
        {
            return SweepBenchmark.Child(hybrid => Model(shared, hybrid), record, int.Parse(cells, CultureInfo.InvariantCulture), int.Parse(count, CultureInfo.InvariantCulture));
        }

        int threads = Math.Min(2, Environment.ProcessorCount);
        string folder = Directory.CreateTempSubdirectory("studies").FullName;
        try
        {
            if (arguments is ["sweep", ..])
            {
                return Sweep(folder);
            }

            StudyModel three = Model(folder, string.Empty);
            DrawSet draws = DrawSet.Sample(three.Inputs, Draws, 1, threads);
            Evaluation evaluation = three.Evaluate(draws, null, threads);
            Print($"{Draws} draws, 3 pipelines: draw, walk, quantiles", () => Whole(three, threads));
            Print("  of it: drawing the inputs", () => DrawSet.Sample(three.Inputs, Draws, 1, threads));
            Print("  of it: walking the stages", () => three.Evaluate(draws, null, threads));
            Print("  of it: quantiles, gates", () => Outcomes(three, evaluation));
            double baseline = Measure.Median(1, () => Whole(three, threads), 7).Nanoseconds;
            bool kept = Kept(baseline / 1e6 < MostMilliseconds, $"three pipelines under {MostMilliseconds} ms");
            foreach (string hybrid in Hybrids)
            {
                StudyModel four = Model(folder, $", {hybrid}");
                double with = Measure.Median(1, () => Whole(four, threads), 7).Nanoseconds;
                Console.WriteLine($"with {hybrid,-22} {(with - baseline) / 1e6,8:F1} ms more");
                kept &= Kept((with - baseline) / 1e6 <= MostMoreMilliseconds, $"{hybrid} at most {MostMoreMilliseconds} ms more");
            }

            DrawSet small = DrawSet.Sample(three.Inputs, 1000, 1, threads);
            Print("a cell of a sweep, 1,000 draws, one thread", () => Decision.Of(three, small, [Change.Scale("farm.speed", 1.1)]));
            int swept = Sweep(folder);
            return kept ? swept : 1;
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static bool Kept(bool kept, string what)
    {
        if (!kept)
        {
            Console.WriteLine($"NOT KEPT: {what}");
        }

        return kept;
    }

    private static int Sweep(string folder) => SweepBenchmark.Run(folder, hybrid => Model(folder, hybrid), 100, 1000);

    private static void Whole(StudyModel model, int threads) => Outcomes(model, model.Evaluate(DrawSet.Sample(model.Inputs, Draws, 1, threads), null, threads));

    private static void Outcomes(StudyModel model, Evaluation evaluation)
    {
        for (int i = 0; i < evaluation.Pipelines.Count; i++)
        {
            Compare.Outcome(model, evaluation, i);
        }
    }

    private static StudyModel Model(string folder, string hybrid)
    {
        string text = Demo.BriefText().Replace("transcode, proxy]", $"transcode, proxy{hybrid}]", StringComparison.Ordinal);
        EmbeddedSuite suite = EmbeddedSuite.InFolder(folder);
        try
        {
            return new(new Preparation(suite.Clients).PrepareAsync(BriefReader.Read("demo", text)).GetAwaiter().GetResult());
        }
        finally
        {
            suite.DisposeAsync().AsTask().GetAwaiter().GetResult();
        }
    }

    private static void Print(string what, Action action)
    {
        Measure.Cost cost = Measure.Median(1, action, 7);
        Console.WriteLine($"{what,-58} {cost.Nanoseconds / 1e6,8:F1} ms ({cost.Lowest / 1e6:F1} to {cost.Highest / 1e6:F1})");
    }
}
