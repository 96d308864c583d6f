using CsCheck;
using PostPipeline.Farms;
using PostPipeline.Flows;

namespace PostPipeline.Domain.Tests.Farms;

/// <summary>Farms with everything at once, for properties.</summary>
internal static class AnyFarm
{
    private static readonly Windows Nights = Windows.From(Enumerable.Range(0, 500).Select(d => (FarmClock.FromSeconds((d * 400) + 150), FarmClock.FromSeconds((d * 400) + 300))));
    private static readonly Windows Days = Windows.From(Enumerable.Range(0, 500).Select(d => (FarmClock.FromSeconds(d * 400), FarmClock.FromSeconds((d * 400) + 200))));

    private static readonly Gen<FarmJob> Job = Gen.Select(
        Gen.Int[0, 60], Gen.Int[0, 12], Gen.Int[0, 4], Gen.Int[0, 3], Gen.Int[0, 500], Gen.Int[0, 2], Gen.Bool, Gen.Int[0, 1],
        (frames, segment, preRoll, overhead, release, priority, join, jobClass) => new FarmJob
        {
            Frames = frames,
            SegmentFrames = segment,
            PreRollFrames = preRoll,
            OverheadSeconds = overhead,
            ReleaseMicroseconds = FarmClock.FromSeconds(release),
            Priority = priority,
            SecondsPerFrame = 1 + (0.25 * jobClass),
            JoinSecondsPerFrame = join ? 0.1 : null,
            ReadBytesPerFrame = 3_000_000,
            WriteBytesPerFrame = 1_000_000,
            Class = jobClass,
            Project = priority % 2,
        });

    /// <summary>Small farms in which all work can be done.</summary>
    public static readonly Gen<FarmScenario> Scenario = Gen.Select(
        Job.List[1, 8], Gen.Int[1, 6], Gen.Int[0, 3], Gen.Int[0, 5], Gen.Int[0, 2], Gen.Bool, Gen.Bool, Gen.Int[0, 3],
        (jobs, nodes, slowNodes, faults, closing, fair, copies, chains) => new FarmScenario
        {
            Nodes =
            [
                new NodeClass { Name = "node", Count = nodes, SlowProbability = faults > 3 ? 0.3 : 0 },
                new NodeClass
                {
                    Name = "night",
                    Count = slowNodes,
                    TimeFactors = [1.5, 0],
                    Open = Nights,
                    MeanUpMicroseconds = faults > 2 ? FarmClock.FromSeconds(300) : 0,
                    MeanDownMicroseconds = FarmClock.FromSeconds(30),
                },
            ],
            Classes =
            [
                new JobClass { Name = "a", Storage = 0, TaskLogSd = 0.2, FailureProbability = 0.1 * faults, BrokenProbability = faults > 1 ? 0.05 : 0, RetryCap = 3 },
                new JobClass { Name = "b", Licence = 0, SharedLogSd = 0.1, FailureProbability = 0.05, FailurePoint = 0.5 },
            ],
            Licences = [new LicencePool("l", 2)],
            Storage = [new StoragePool("s", 6e6, 4e6)],
            Projects = [new FarmProject("p"), new FarmProject("q", 2)],
            Attended = Days,
            HorizonMicroseconds = FarmClock.FromSeconds(500 * 400),
            Closing = (ClosingRule)closing,
            Sharing = fair ? SharingRule.Fair : SharingRule.Strict,
            DuplicateTail = copies,
            NightFailure = faults > 3 ? new(Farm.Seconds((300, 400), (700, 800)), 0.3) : null,
            Jobs = [.. jobs.Select((job, j) => j > 0 && j <= chains ? job with { After = [j - 1] } : job)],
        });
}
