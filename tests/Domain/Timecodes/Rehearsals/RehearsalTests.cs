using System.Collections.Immutable;
using PostPipeline.Quantities;
using PostPipeline.Timecodes;
using PostPipeline.Timecodes.Generators;
using PostPipeline.Timecodes.OffSpeed;
using PostPipeline.Timecodes.Rehearsals;
using Xunit;

namespace PostPipeline.Domain.Tests.Timecodes.Rehearsals;

/// <summary>Plans whose outcome follows from the rules of the trade (common practice, no source).</summary>
public class RehearsalTests
{
    private static readonly TimecodeFormat F24 = TimecodeFormat.Fps24;

    [Fact]
    public void Run_SoundPlan_Passes()
    {
        RehearsalResult result = Run([Camera("A"), Camera("B")], [.. Day("A", 0), .. Day("B", 1)]);
        Assert.True(result.Passes);
        Assert.Empty(result.Findings);
        Assert.Equal((200, 0, 0), (result.Events, result.ProblemEvents, result.ProblemEventsBest));
    }

    // Worked example: 96 fps on a base of 24 from 10:00:00:00 for 30 s are 2,880 frames, labels to 10:02:00:00; a clip at
    // 10:01:00:00 on the same reel overlaps where there is a label a frame.
    [Theory]
    [InlineData(OffSpeedLabelling.PerFrame, "labels-overlap", true)]
    [InlineData(OffSpeedLabelling.FollowsClock, "labels-do-not-count-frames", true)]
    [InlineData(OffSpeedLabelling.None, "no-labels", true)]
    [InlineData(OffSpeedLabelling.RecordRunForced, null, false)]
    public void Run_OverCrankedTakeBeforeAnother_DependsOnTheBehaviour(OffSpeedLabelling behaviour, string? finding, bool fails)
    {
        RehearsalResult result = Run(
            [Camera("A") with { OffSpeedLabelling = behaviour }],
            [Take("A001C001", 36_000, 2_880) with { SensorRate = FrameRate.From(96, 1), RecordRunStart = 1_000 }, Take("A001C002", 36_060, 1_440)],
            namesInList: false);
        Assert.Equal(!fails, result.Passes);
        Assert.Equal(finding is null ? [] : new[] { finding }, result.Findings.Select(f => RehearsalText.NameOf(f.Cause)).Distinct());
    }

    [Fact]
    public void Run_UnknownBehaviour_TriesEveryOneAndIsUnknown()
    {
        RehearsalResult result = Run(
            [Camera("A")],
            [Take("A001C001", 36_000, 2_880) with { SensorRate = FrameRate.From(96, 1), RecordRunStart = 1_000, Day = 3 }, Take("A001C002", 36_060, 1_440) with { Day = 3 }],
            namesInList: false);
        Assert.Null(result.Passes);
        Assert.Equal(4, result.Behaviours);
        Assert.Equal(0, result.ProblemEventsBest);
        Assert.True(result.ProblemEvents > 0);
        Assert.Equal(
            ["labels-do-not-count-frames", "labels-overlap", "no-labels"],
            result.Findings.Select(f => RehearsalText.NameOf(f.Cause)).Order(StringComparer.Ordinal));
        Assert.All(result.Findings, f => Assert.Equal((false, 3, "A"), (f.Fails, f.FirstDay, f.Camera)));
        Assert.All(result.Findings, f => Assert.NotEmpty(f.Remedy));
    }

    // Worked example: at 8 characters K07-0031-D12 and K07-0031-D13 merge.
    [Fact]
    public void Run_ReelsMergeWhenCutOff_FailsWithoutNamesAndPassesWithThem()
    {
        RehearsalTake[] takes = [Take("C1", 36_000, 240) with { Reel = "K07-0031-D12" }, Take("C2", 36_005, 240) with { Reel = "K07-0031-D13", Camera = 1 }];
        RehearsalCamera[] cameras = [Camera("A"), Camera("B")];
        RehearsalResult without = Run(cameras, takes, namesInList: false, reelCharacters: 8);
        Assert.False(without.Passes);
        Assert.Contains(without.Findings, f => f.Cause == RehearsalCause.ReelNamesMerge && f.Fails);
        Assert.True(Run(cameras, takes, namesInList: true, reelCharacters: 8).Passes);
        Assert.Null(Run(cameras, takes, namesInList: null, reelCharacters: 8).Passes);
        Assert.True(Run(cameras, takes, namesInList: false, reelCharacters: 12).Passes);
    }

    [Fact]
    public void Run_RecordRunOnOneReel_CollidesBetweenCameras()
    {
        RehearsalCamera[] cameras = [Camera("A") with { Run = TimecodeRun.Record }, Camera("B") with { Run = TimecodeRun.Record }];
        RehearsalResult same = Run(cameras, [Take("C1", 0, 240) with { Reel = "R1" }, Take("C2", 0, 240) with { Reel = "R1", Camera = 1 }], namesInList: false);
        Assert.False(same.Passes);
        Assert.All(same.Findings, f => Assert.Equal(RehearsalCause.LabelsOverlap, f.Cause));
        Assert.True(Run(cameras, [Take("C1", 0, 240) with { Reel = "A1" }, Take("C2", 0, 240) with { Reel = "B1", Camera = 1 }], namesInList: false).Passes);
    }

    [Fact]
    public void Run_BaseDiffersFromProject_IsARateConflict()
    {
        RehearsalResult result = Run([Camera("A") with { Base = TimecodeFormat.Fps24000Over1001 }], [Take("C1", 36_000, 240) with { SensorRate = FrameRate.Fps24000Over1001 }]);
        Assert.False(result.Passes);
        Assert.Equal(RehearsalCause.RatesDiffer, Assert.Single(result.Findings).Cause);
        Assert.Equal(result.Events, result.ProblemEventsBest);
    }

    [Fact]
    public void Run_DropFlagDiffersFromProject_IsSaid()
    {
        RehearsalPlan plan = new()
        {
            ProjectFormat = TimecodeFormat.Fps30000Over1001Drop,
            Events = 50,
            Cameras = [Camera("A") with { Base = TimecodeFormat.Fps30000Over1001 }],
            Takes = [Take("C1", 36_000, 2400) with { SensorRate = FrameRate.Fps30000Over1001 }],
        };
        RehearsalResult result = Rehearsal.Run(plan);
        Assert.False(result.Passes);
        Assert.Equal(RehearsalCause.DropFlagsDiffer, Assert.Single(result.Findings).Cause);
    }

    [Theory]
    [InlineData(true, true)]
    [InlineData(false, false)]
    [InlineData(null, null)]
    public void Run_ProxyMatch_DecidesTheVerdict(bool? matches, bool? passes)
    {
        RehearsalResult result = Run([Camera("A") with { Proxies = ProxyOrigin.InCamera, ProxyMatches = matches, ProxyOffSpeed = true }], [Take("C1", 36_000, 240)]);
        Assert.Equal(passes, result.Passes);
        Assert.Equal(matches == false ? result.Events : 0, result.ProblemEventsBest);
        Assert.Equal(matches == true ? 0 : result.Events, result.ProblemEvents);
    }

    // Worked example: ±10 ppm over 12 h are 20.7 frames at 24 for the pair; half a frame at 2 ppm needs a sync every 2.89 h.
    [Fact]
    public void Run_ClocksDrift_IsSaidAndLeavesTheVerdict()
    {
        RehearsalResult result = Run([Camera("A") with { DriftPartsPerMillion = 2, JamSyncHours = 12 }], [Take("C1", 36_000, 240)]);
        Assert.True(result.Passes);
        RehearsalFinding finding = Assert.Single(result.Findings);
        Assert.Equal(RehearsalCause.ClocksDrift, finding.Cause);
        Assert.Contains("every 2.9 h", finding.Remedy, StringComparison.Ordinal);
    }

    [Fact]
    public void Run_SameSeed_GivesTheSameAnswer()
    {
        RehearsalTake[] takes = [.. Enumerable.Range(0, 300).Select(i => Take($"A001C{i:D4}", 30_000 + (20 * i), 1 + (i * 7 % 500)) with { SensorRate = FrameRate.From(i % 3 == 0 ? 96 : 24, 1), RecordRunStart = 500 * i })];
        RehearsalResult one = Run([Camera("A")], takes);
        RehearsalResult two = Run([Camera("A")], takes);
        Assert.Equal(one with { Findings = [] }, two with { Findings = [] });
        Assert.Equal(one.Findings.AsEnumerable(), two.Findings);
    }

    [Fact]
    public void Run_ManyTakes_TriesEveryBehaviourWithinMemory()
    {
        RehearsalTake[] takes = [.. Enumerable.Range(0, 20_000).Select(i => Take($"A{i / 50:D3}C{i:D5}", 30_000 + (i % 50 * 60), 240) with { Reel = $"A{i / 50:D3}", Day = i / 400, SensorRate = FrameRate.From(i % 10 == 0 ? 48 : 24, 1), RecordRunStart = 300 * (i % 50) })];
        RehearsalResult result = Run([Camera("A")], takes, events: 5_000);
        Assert.Null(result.Passes);
        Assert.Equal(8, result.Behaviours);
    }

    private static RehearsalCamera Camera(string name) => new() { Name = name, Base = F24 };

    private static RehearsalTake Take(string clip, double start, long frames) => new(clip, "A001", 0, 0, start, frames, FrameRate.Fps24, 0);

    private static IEnumerable<RehearsalTake> Day(string camera, int place) =>
        Enumerable.Range(0, 20).Select(i => Take($"{camera}001C{i:D3}", 36_000 + (60 * i), 480) with { Reel = $"{camera}001", Camera = place });

    private static RehearsalResult Run(
        RehearsalCamera[] cameras, RehearsalTake[] takes, bool? namesInList = null, int reelCharacters = 0, int events = 200) =>
        Rehearsal.Run(new()
        {
            ProjectFormat = F24,
            Events = events,
            HandleFrames = 8,
            ReelCharacters = reelCharacters,
            NamesInList = namesInList,
            Cameras = [.. cameras],
            Takes = [.. takes],
        });
}
