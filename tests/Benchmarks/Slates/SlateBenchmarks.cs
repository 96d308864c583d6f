using System.Diagnostics;
using System.Globalization;
using PostPipeline.Slates.Planning;
using PostPipeline.Slates.Scheduling;
using PostPipeline.Slates.Solving;
using PostPipeline.Studies.Tests.Slates;

namespace PostPipeline.Benchmarks.Slates;

/// <summary>
/// Generated slates of three pipelines a project over 26 weeks: time to the first plan, value, bound and gap by level.
/// Arguments: nothing for the whole, <c>published</c>, <c>one</c> for a single slate, <c>repeatable</c> for one planned as the command and the notebook plan, whose
/// seconds are counted steps, <c>against</c> for a short search against a long one. Ends with 1 where something promised is not kept.
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
                return Ended(Plan(int.Parse(projects, Invariant), double.Parse(load, Invariant), double.Parse(seconds, Invariant), int.Parse(seed, Invariant), trace: true));
            case ["repeatable", string projects, string load, string seconds, string seed]:
                return Ended(Plan(int.Parse(projects, Invariant), double.Parse(load, Invariant), double.Parse(seconds, Invariant), int.Parse(seed, Invariant), trace: false, repeatable: true));
            case ["against", string projects, string load, string first, string second, string seed]:
                return Ended(Against(int.Parse(projects, Invariant), double.Parse(load, Invariant), double.Parse(first, Invariant), double.Parse(second, Invariant), int.Parse(seed, Invariant)));
            case ["published"]:
                return Ended(Published());
            case []:
                return Ended(Published() & All());
            default:
                Console.Error.WriteLine("usage: slates [published | one PROJECTS LOAD SECONDS SEED | repeatable PROJECTS LOAD SECONDS SEED | against PROJECTS LOAD SECONDS SECONDS SEED]");
                return 2;
        }
    }

    private static int Ended(bool kept) => kept ? 0 : 1;

    // What is not kept is said on a line of its own.
    private static bool Kept(bool kept, string what)
    {
        if (!kept)
        {
            Console.WriteLine($"    NOT KEPT: {what}");
        }

        return kept;
    }

    private static bool All()
    {
        bool kept = true;
        foreach (double part in (double[])[0.7, 0.85, 1.0])
        {
            foreach (int start in Seeds)
            {
                kept &= Plan(50, part, 120, start, trace: false);
            }
        }

        Console.WriteLine("as the command and the notebook plan, seconds counted in steps:");
        foreach (double part in (double[])[0.7, 0.85])
        {
            kept &= Plan(50, part, 120, 1, trace: false, repeatable: true);
        }

        Console.WriteLine("growth, 60 s each:");
        foreach (int count in (int[])[5, 10, 20, 35, 50, 75, 100])
        {
            Plan(count, 0.85, 60, 1, trace: false);
        }

        return kept;
    }

    // Every published instance that is at hand, one after the other, on two threads.
    private static bool Published()
    {
        string? checks = Environment.GetEnvironmentVariable("POSTPIPELINE_CHECKS");
        if (checks is null || !Directory.Exists(Path.Combine(checks, "psplib")))
        {
            Console.WriteLine("PSPLIB j30: not measured, POSTPIPELINE_CHECKS does not lead to the instances");
            return false;
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
        return Kept(files.Count > 0 && proven == files.Count, "every instance proven and equal to the table") & Kept(watch.Elapsed.TotalSeconds < 180, "within 180 s");
    }

    // A short search against a long one, by level.
    private static bool Against(int projects, double load, double first, double second, int seed)
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
        return Kept(plans[0].Value(PlanLevel.Lateness) <= plans[1].Value(PlanLevel.Lateness) && paid[0] <= 1.03 * paid[1], "no later, and within 3 % of what the long search pays");
    }

    private static bool Plan(int projects, double load, double seconds, int seed, bool trace, bool repeatable = false)
    {
        SlateProblem problem = SlateGenerator.Create(projects, load, seed);
        Stopwatch watch = Stopwatch.StartNew();
        Follow follow = new(watch, trace);
        PlanAnswer answer = SlatePlanner.Plan(problem, new() { Seconds = seconds, Workers = 2, Seed = seed, Repeatable = repeatable }, progress: follow);
        double took = watch.Elapsed.TotalSeconds;
        string first = follow.First is double at ? $"first plan {at:F1} s" : "no plan";
        Console.WriteLine($"{projects} projects, load {load:P0}, seed {seed}: {first}, {took:F1} s in all{(repeatable ? $" for {seconds} s asked for" : string.Empty)}");
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

        // Promised for fifty projects: a first plan, no lateness left open at 70 %, and how far money may be from its bound.
        PlanLevelResult? money = answer.Plan?.Levels.FirstOrDefault(l => l.Level == PlanLevel.Money);
        double most = load <= 0.7 ? 0.05 : 0.15;
        return projects != 50 || load > 0.85 || seconds < 120
            || (Kept(follow.First < 10, "a first plan within 10 s")
                & Kept(load > 0.7 || answer.Plan!.Levels.Any(l => l.Level == PlanLevel.Lateness && l.IsProven), "lateness proven")
                & Kept(money is not null && money.Gap <= most * money.Value, $"money within {most:P0} of its bound"));
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
