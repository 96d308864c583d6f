using PostPipeline.Slates.Scheduling;
using PostPipeline.Slates.Solving;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Studies.Tests.Slates;

public class PsplibTests
{
    // Source: PSPLIB j30 and its table of optimal makespans (Kolisch and Sprecher 1996). Six instances in the fast
    // tier; all of them with POSTPIPELINE_LONG=1.
    [SkippableFact]
    public void Solve_PublishedInstances_ProvesThePublishedOptimum()
    {
        string folder = Outside.Data("psplib/j30");
        IReadOnlyDictionary<string, int> optima = PsplibInstance.Optima(Outside.Data("psplib/j30opt.sm"));
        bool all = Environment.GetEnvironmentVariable("POSTPIPELINE_LONG") == "1";
        List<string> files = [.. Directory.GetFiles(folder, "*.sm").Order(StringComparer.Ordinal)];
        foreach (string file in all ? files : files.Take(6))
        {
            ScheduleAnswer answer = ScheduleSolver.Solve(
                PsplibInstance.Read(file), [ScheduleLevel.Makespan], new() { Seconds = 120, Workers = 2 });
            LevelResult level = Assert.Single(answer.Plan!.Levels);
            Assert.True(level.IsProven, $"{Path.GetFileName(file)}: bound {level.Bound}, value {level.Value}");
            Assert.Equal(optima[Path.GetFileNameWithoutExtension(file)], level.Value);
        }
    }
}
