using System.Diagnostics;
using System.Globalization;
using PostPipeline.Slates.Planning;
using PostPipeline.Slates.Scheduling;
using PostPipeline.Slates.Solving;
using PostPipeline.Studies.Tests.Slates;

namespace PostPipeline.Benchmarks.Slates;

/// <summary>
/// Generated slates of three pipelines a project over 26 weeks: time to the first plan, value, bound and gap by level.
/// Arguments: nothing for the whole, <c>published</c>, <c>one</c> for a single slate, <c>against</c> for a short search against a long one.
/// </summary>
internal static class SlateBenchmarks
{
    private static readonly int[] Seeds = [1, 2, 3];
    private static readonly CultureInfo Invariant = CultureInfo.InvariantCulture;

    public static int Run(string[] arguments)
    {
        switch (arguments)
        {
            case ["one", string projects, string load, string seconds, string seed]:
                Plan(int.Parse(projects, Invariant), double.Parse(load, Invariant), double.Parse(seconds, Invariant), int.Parse(seed, Invariant), trace: true);
                return 0;
            case ["against", string projects, string load, string first, string second, string seed]:
                Against(int.Parse(projects, Invariant), double.Parse(load, Invariant), double.Parse(first, Invariant), double.Parse(second, Invariant), int.Parse(seed, Invariant));
                return 0;
            case ["published"]:
                Published();
                return 0;
            case []:
                Published();
                All();
                return 0;
            default:
                Console.Error.WriteLine("usage: slates [published | one PROJECTS LOAD SECONDS SEED | against PROJECTS LOAD SECONDS SECONDS SEED]");
                return 2;
        }
    }

    private static void All()
    {
        foreach (double part in (double[])[0.7, 0.85, 1.0])
        {
            foreach (int start in Seeds)
            {
                Plan(50, part, 120, start, trace: false);
            }
        }

        Console.WriteLine("growth, 60 s each:");
        foreach (int count in (int[])[5, 10, 20, 35, 50, 75, 100])
        {
            Plan(count, 0.85, 60, 1, trace: false);
        }
    }

    // Every published instance that is at hand, one after the other, on two threads.
    private static void Published()
    {
        string? checks = Environment.GetEnvironmentVariable("POSTPIPELINE_CHECKS");
        if (checks is null || !Directory.Exists(Path.Combine(checks, "psplib")))
        {
            Console.WriteLine("PSPLIB j30: not measured, POSTPIPELINE_CHECKS does not lead to the instances");
            return;
        }

        IReadOnlyDictionary<string, int> optima = PsplibInstance.Optima(Path.Combine(checks, "psplib", "j30opt.sm"));
        List<string> files = [.. Directory.GetFiles(Path.Combine(checks, "psplib", "j30"), "*.sm").Order(StringComparer.Ordinal)];
        Stopwatch watch = Stopwatch.StartNew();
        int proven = files.Count(file =>
        {
            LevelResult level = ScheduleSolver.Solve(PsplibInstance.Read(file), [ScheduleLevel.Makespan], new() { Seconds = 120, Workers = 2 }).Plan!.Levels[0];
            return level.IsProven && level.Value == optima[Path.GetFileNameWithoutExtension(file)];
        });
        Console.WriteLine($"PSPLIB j30: {proven} of {files.Count} instances proven and equal to the table, {watch.Elapsed.TotalSeconds:F1} s in all");
    }

    // A short search against a long one, by level.
    private static void Against(int projects, double load, double first, double second, int seed)
    {
        SlateProblem problem = SlateGenerator.Create(projects, load, seed);
        SlatePlan[] plans = [.. new[] { first, second }.Select(s => SlatePlanner.Plan(problem, new() { Seconds = s, Workers = 2, Seed = seed }).Plan!)];
        Console.WriteLine($"{projects} projects, load {load:P0}, seed {seed}: {first} s against {second} s");
        foreach (PlanLevelResult level in plans[0].Levels)
        {
            long other = plans[1].Value(level.Level);
            Console.WriteLine($"    {level.Level,-12} {level.Value,10} {other,10}{(other > 0 ? $" {(double)(level.Value - other) / other:P2}" : string.Empty)}");
        }

        long[] paid = [.. plans.Select(p => p.Value(PlanLevel.Extras) + p.Value(PlanLevel.Money))];
        Console.WriteLine($"    {"paid in all",-12} {paid[0],10} {paid[1],10} {(double)(paid[0] - paid[1]) / paid[1]:P2}");
    }

    private static void Plan(int projects, double load, double seconds, int seed, bool trace)
    {
        SlateProblem problem = SlateGenerator.Create(projects, load, seed);
        Stopwatch watch = Stopwatch.StartNew();
        Follow follow = new(watch, trace);
        PlanAnswer answer = SlatePlanner.Plan(problem, new() { Seconds = seconds, Workers = 2, Seed = seed }, progress: follow);
        double took = watch.Elapsed.TotalSeconds;
        string first = follow.First is double at ? $"first plan {at:F1} s" : "no plan";
        Console.WriteLine($"{projects} projects, load {load:P0}, seed {seed}: {first}, {took:F1} s in all");
        foreach (PlanLevelResult level in answer.Plan?.Levels ?? [])
        {
            string share = level.Value > 0 ? $" ({(double)level.Gap / level.Value:P2} of the value)" : string.Empty;
            Console.WriteLine($"    {level.Level,-12} value {level.Value,10} bound {level.Bound,10} gap {level.Gap,8}{share}{(level.IsProven ? ", proven" : string.Empty)}");
        }

        if (trace && answer.Plan is SlatePlan plan)
        {
            foreach (IGrouping<string, RentalPlan> rental in plan.Rentals.GroupBy(r => r.Resource))
            {
                Console.WriteLine($"    rented: {rental.Key}, {rental.Sum(r => r.Units)} units by period, {rental.Sum(r => r.Price)}");
            }

            foreach (IGrouping<string, ProjectPlan> taken in plan.Projects.GroupBy(p => p.Pipeline))
            {
                Console.WriteLine($"    {taken.Key}: {taken.Count()} projects, {taken.Count(p => p.LateSlots > 0)} late");
            }
        }

        foreach (string obstacle in answer.Obstacles)
        {
            Console.WriteLine($"    {obstacle}");
        }
    }

    private sealed class Follow(Stopwatch watch, bool trace) : IProgress<PlanProgress>
    {
        private (PlanLevel, long, long) last;

        public double? First { get; private set; }

        public void Report(PlanProgress value)
        {
            First ??= watch.Elapsed.TotalSeconds;
            if (trace && last != (value.Level, value.Value, value.Bound))
            {
                Console.WriteLine($"  {watch.Elapsed.TotalSeconds,7:F1} s {value.Level,-12} value {value.Value,10} bound {value.Bound,10}");
                last = (value.Level, value.Value, value.Bound);
            }
        }
    }
}
