using System.Diagnostics;
using System.Globalization;
using PostPipeline.Slates.Planning;

namespace PostPipeline.Benchmarks.Slates;

/// <summary>
/// Generated slates of three pipelines a project over 26 weeks: time to the first plan, value, bound and gap by level.
/// Arguments: nothing for the whole, or <c>one PROJECTS LOAD SECONDS SEED</c> for a single slate.
/// </summary>
internal static class SlateBenchmarks
{
    private static readonly int[] Seeds = [1, 2, 3];

    public static int Run(string[] arguments)
    {
        if (arguments is ["one", string projects, string load, string seconds, string seed])
        {
            CultureInfo invariant = CultureInfo.InvariantCulture;
            Plan(int.Parse(projects, invariant), double.Parse(load, invariant), double.Parse(seconds, invariant), int.Parse(seed, invariant), trace: true);
            return 0;
        }

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

        return 0;
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
