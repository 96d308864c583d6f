using PostPipeline.Slates.Scheduling;

namespace PostPipeline.Studies.Tests.Slates;

/// <summary>A single-mode project-scheduling instance in the PSPLIB text format (Kolisch and Sprecher 1996).</summary>
internal static class PsplibInstance
{
    public static ScheduleProblem Read(string path)
    {
        string[] lines = File.ReadAllLines(path);
        int horizon = int.Parse(lines.First(l => l.StartsWith("horizon", StringComparison.Ordinal)).Split(':')[1]);
        List<Precedence> precedences = [.. Numbers(lines, "PRECEDENCE RELATIONS", 2)
            .SelectMany(row => row.Skip(3).Select(after => new Precedence(row[0] - 1, after - 1)))];
        List<ScheduleTask> tasks = [.. Numbers(lines, "REQUESTS/DURATIONS", 3)
            .Select(row => new ScheduleTask($"job {row[0]}", [new(row[2], [.. row.Skip(3).Select((amount, place) => new ResourceUse(place, amount))])]))];
        int[] capacities = Numbers(lines, "RESOURCEAVAILABILITIES", 2).First();
        return new()
        {
            Horizon = horizon,
            Resources = [.. capacities.Select((capacity, place) => new ScheduleResource($"R{place + 1}", capacity))],
            Tasks = tasks,
            Precedences = precedences,
        };
    }

    /// <summary>The table of optimal makespans: parameter, instance, makespan, seconds.</summary>
    public static IReadOnlyDictionary<string, int> Optima(string path) =>
        File.ReadLines(path).Select(Split)
            .Where(cells => cells.Length == 4 && cells.All(c => double.TryParse(c, out _)))
            .ToDictionary(cells => $"j30{cells[0]}_{cells[1]}", cells => int.Parse(cells[2]));

    private static IEnumerable<int[]> Numbers(string[] lines, string heading, int skip) =>
        lines.SkipWhile(l => !l.StartsWith(heading, StringComparison.Ordinal)).Skip(skip)
            .TakeWhile(l => !l.StartsWith('*'))
            .Select(l => Split(l).Select(int.Parse).ToArray());

    private static string[] Split(string line) => line.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);
}
