using PostPipeline.Farms;
using PostPipeline.Flows;

namespace PostPipeline.Domain.Tests.Farms;

/// <summary>Short ways to write a farm in a test.</summary>
internal static class Farm
{
    public static FarmScenario Of(int nodes, params FarmJob[] jobs) => new()
    {
        Nodes = [new NodeClass { Name = "node", Count = nodes }],
        Classes = [new JobClass { Name = "render" }],
        Jobs = jobs,
    };

    /// <summary>One task of whole seconds.</summary>
    public static FarmJob Task(double seconds, params int[] after) => new() { Frames = 1, SecondsPerFrame = seconds, After = after };

    public static double FinishSeconds(FarmScenario scenario, long seed = 0) =>
        FarmClock.ToSeconds(FarmSimulation.Run(scenario, seed).Finish!.Value);

    public static List<TaskRecord> Records(FarmScenario scenario, long seed = 0, int replication = 0)
    {
        TaskRecordList list = new();
        FarmSimulation.Run(scenario, seed, replication, list);
        return [.. list.Rows];
    }

    public static Windows Seconds(params (double From, double Until)[] windows) =>
        Windows.From(windows.Select(w => (FarmClock.FromSeconds(w.From), FarmClock.FromSeconds(w.Until))));
}
