using CsCheck;
using PostPipeline.Farms;
using PostPipeline.Farms.Simulations;
using PostPipeline.Flows;
using Xunit;

namespace PostPipeline.Domain.Tests.Farms;

public class SimulationPropertyTests
{
    // Conservation: every task of every job is done exactly once, and no attempt is forgotten.
    [Fact]
    public void Run_AnyFarm_DoesEveryTaskOnce() => AnyFarm.Scenario.Sample(
        scenario =>
        {
            TaskRecordList list = new();
            ReplicationResult result = FarmSimulation.Run(scenario, 3, 1, list);
            Assert.NotNull(result.Finish);
            Assert.Equal(FarmTasks.Count(scenario.Jobs), result.TasksDone);
            var done = list.Rows.Where(r => r.Outcome == TaskOutcome.Done).GroupBy(r => (r.Job, r.Segment)).ToList();
            Assert.Equal(result.TasksDone, done.Count);
            Assert.All(done, g => Assert.Single(g));
            Assert.Equal(result.Failures, list.Rows.Count(r => r.Outcome == TaskOutcome.Failed));
            Assert.Equal(result.Lost, list.Rows.Count(r => r.Outcome == TaskOutcome.Lost));
            Assert.Equal(result.Dropped, list.Rows.Count(r => r.Outcome == TaskOutcome.Dropped));
            Assert.Equal(result.BusyMicroseconds, list.Rows.Sum(r => r.End - r.Start));
        },
        iter: 60);

    // A node holds one attempt at a time, licences are never over-drawn, nothing starts before it is ready or while its node is shut.
    [Fact]
    public void Run_AnyFarm_HoldsEveryLimit() => AnyFarm.Scenario.Sample(
        scenario =>
        {
            List<TaskRecord> records = Farm.Records(scenario, 5);
            foreach (var node in records.GroupBy(r => r.Node))
            {
                long last = 0;
                foreach (TaskRecord r in node.OrderBy(r => r.Start).ThenBy(r => r.End))
                {
                    Assert.True(r.Start >= last && r.Start >= r.Ready && r.End >= r.Start);
                    Assert.True(r.Start >= scenario.Jobs[r.Job].ReleaseMicroseconds);
                    last = r.End;
                    if (r.Node >= scenario.Nodes[0].Count)
                    {
                        Assert.True(scenario.Nodes[1].Open!.IsOpen(r.Start));
                        Assert.Equal(0, scenario.Jobs[r.Job].Class);
                    }
                }
            }

            var licensed = records.Where(r => scenario.Jobs[r.Job].Class == 1).ToList();
            var steps = licensed.Select(r => (Time: r.Start, Step: 1)).Concat(licensed.Select(r => (Time: r.End, Step: -1))).OrderBy(s => s.Time).ThenBy(s => s.Step);
            int held = 0;
            foreach (var (_, step) in steps)
            {
                held += step;
                Assert.InRange(held, 0, 2);
            }
        },
        iter: 60);

    // Jobs that wait for others start after them.
    [Fact]
    public void Run_AnyFarm_KeepsTheOrderOfJobs() => AnyFarm.Scenario.Sample(
        scenario =>
        {
            TaskRecordList list = new();
            ReplicationResult result = FarmSimulation.Run(scenario, 9, 0, list);
            Assert.All(list.Rows, r => Assert.All(scenario.Jobs[r.Job].After, before => Assert.True(r.Start >= result.JobFinishes[before])));
        },
        iter: 60);

    // The same seed gives the same records, also from a run that has used its arrays before.
    [Fact]
    public void Run_SameSeed_SameRecords() => AnyFarm.Scenario.Sample(
        scenario =>
        {
            Assert.Equal(Farm.Records(scenario, 11, 4), Farm.Records(scenario, 11, 4));
            FarmForecast one = FarmReplications.Run(scenario, 11, 6, null, 1);
            FarmForecast two = FarmReplications.Run(scenario, 11, 6, null, 2);
            Assert.Equal(one.Finishes, two.Finishes);
            Assert.Equal(FarmSimulation.Run(scenario, 11, 4).Finish ?? long.MaxValue, one.Finishes[4]);
        },
        iter: 60);

    // Little's law: the time integral of the number in the farm is the sum of the times spent there. Where nothing fails, each
    // task is there from its readiness to its end.
    [Fact]
    public void Run_WithoutFailures_ObeysLittlesLaw() => AnyFarm.Scenario.Sample(
        scenario =>
        {
            FarmScenario sound = scenario with
            {
                Classes = [.. scenario.Classes.Select(c => c with { FailureProbability = 0, BrokenProbability = 0 })],
                Nodes = [.. scenario.Nodes.Select(n => n with { MeanUpMicroseconds = 0 })],
                Jobs = [.. scenario.Jobs.Select(j => j with { JoinSecondsPerFrame = null })],
                NightFailure = null,
                DuplicateTail = false,
                Closing = ClosingRule.Pause,
            };
            TaskRecordList list = new();
            ReplicationResult result = FarmSimulation.Run(sound, 2, 0, list);
            Assert.Equal(list.Rows.Sum(r => (double)(r.End - r.Ready)), result.TaskMicroseconds, 1.0);
        },
        iter: 60);

    // Equal tasks, equal nodes, no storage: one more node is never later, and the finish is that of whole waves.
    [Fact]
    public void Run_EqualTasks_OneMoreNodeIsNeverLater() =>
        Gen.Select(Gen.Int[1, 200], Gen.Int[1, 30], Gen.Int[1, 50]).Sample((tasks, nodes, seconds) =>
        {
            FarmJob job = new() { Frames = tasks, SegmentFrames = 1, SecondsPerFrame = seconds };
            double now = Farm.FinishSeconds(Farm.Of(nodes, job));
            Assert.Equal(Math.Ceiling((double)tasks / nodes) * seconds, now);
            Assert.True(Farm.FinishSeconds(Farm.Of(nodes + 1, job)) <= now);
        });

    // Any tasks: a finish beyond that of one node less is an anomaly, and stays inside Graham's bound against the lower bounds.
    [Fact]
    public void Run_IndependentTasks_StayInsideGrahamsBound() =>
        Gen.Select(Gen.Int[1, 100].List[1, 40], Gen.Int[1, 8]).Sample((seconds, nodes) =>
        {
            FarmScenario scenario = Farm.Of(nodes, [.. seconds.Select(s => Farm.Task(s))]);
            long finish = FarmSimulation.Run(scenario).Finish!.Value;
            FarmBounds bounds = FarmBounds.Of(scenario);
            Assert.True(finish >= bounds.Latest);
            Assert.True(finish <= bounds.TotalWork + ((1 - (1.0 / nodes)) * bounds.LongestTask) + 1);
        });

    // No run of a farm without spread or failures ends before its bounds.
    [Fact]
    public void Of_AnyFarm_NoFinishIsEarlier() => AnyFarm.Scenario.Sample(
        scenario =>
        {
            FarmScenario sound = scenario with
            {
                Classes = [.. scenario.Classes.Select(c => c with { TaskLogSd = 0, SharedLogSd = 0 })],
                Nodes = [.. scenario.Nodes.Select(n => n with { SlowProbability = 0 })],
                Closing = ClosingRule.Pause,
            };
            long? bound = FarmBounds.Of(sound).Latest;
            long finish = FarmSimulation.Run(sound, 1).Finish!.Value;
            Assert.NotNull(bound);
            Assert.True(finish + 100 >= bound, $"finish {finish} before the bound {bound}: {FarmBounds.Of(sound)}");
        },
        iter: 60);

    // Nodes that share nothing: the list of nodes and the simulation of every event give the same attempts.
    [Fact]
    public void Run_NodesThatShareNothing_EqualEventByEvent()
    {
        int compared = 0;
        AnyFarm.Scenario.Sample(scenario => EqualEventByEvent(scenario, ref compared), iter: 500);
        Assert.True(compared > 200);
    }

    // A job whose second segment, on a slow node, ends after all that follow it, begun while another job's failures waited.
    [Fact]
    public void Run_EarlySegmentEndsLast_SetsTheJobsFinish()
    {
        int compared = 0;
        AnyFarm.Scenario.Sample(scenario => EqualEventByEvent(scenario, ref compared), seed: "aMHNKppf2Y63", iter: 1);
        Assert.Equal(1, compared);
    }

    // Whole segments of a job that takes equally long on a node, more of them than nodes, on two classes of nodes of which some
    // may be slow: the same rows as event by event, and the same sums where no rows are kept.
    [Fact]
    public void Run_EvenJobsOnNodesThatNeverClose_EqualEventByEvent() =>
        Gen.Select(Gen.Select(Gen.Int[1, 400], Gen.Int[1, 4], Gen.Int[0, 50]).Array[1, 6], Gen.Int[1, 9], Gen.Int[0, 9], Gen.Double[0, 0.5]).Sample((jobs, fast, slow, chance) =>
        {
            FarmScenario scenario = new()
            {
                Nodes = [new NodeClass { Name = "a", Count = fast, SlowProbability = chance }, new NodeClass { Name = "b", Count = slow, TimeFactors = [1.37] }],
                Classes = [new JobClass { Name = "render", SharedLogSd = 0.1 }],
                Jobs = [.. jobs.Select(j => new FarmJob { Frames = j.Item1, SegmentFrames = j.Item2, SecondsPerFrame = 1.5, OverheadSeconds = j.Item3 })],
            };
            FarmPlan plan = new(scenario);
            TaskRecordList rows = new();
            ReplicationResult kept = new ListRun(plan).Run(4, 2, rows, default)!;
            ReplicationResult bare = new ListRun(plan).Run(4, 2, null, default)!;
            TaskRecordList slowRows = new();
            ReplicationResult events = new FarmPlans(scenario, 4).RunEvents(new(), 2, slowRows, default);
            Assert.Equal(slowRows.Rows.OrderBy(r => r.Start).ThenBy(r => r.Node).ThenBy(r => r.End), rows.Rows.OrderBy(r => r.Start).ThenBy(r => r.Node).ThenBy(r => r.End));
            foreach (ReplicationResult list in new[] { kept, bare })
            {
                Assert.Equal(events.JobFinishes, list.JobFinishes);
                Assert.Equal((events.Finish, events.TasksDone, events.BusyMicroseconds), (list.Finish, list.TasksDone, list.BusyMicroseconds));
                Assert.Equal(events.TaskMicroseconds, list.TaskMicroseconds, 1.0);
            }
        },
        iter: 200);

    private static void EqualEventByEvent(FarmScenario scenario, ref int compared)
    {
        FarmScenario apart = scenario with
        {
            Nodes = [scenario.Nodes[0], scenario.Nodes[1] with { MeanUpMicroseconds = 0, TimeFactors = [1.5, 1.25] }],
            Classes = [.. scenario.Classes.Select((c, k) => c with { Licence = null, Storage = null, BrokenProbability = 0, FailureProbability = k == 1 ? 0 : c.FailureProbability / 3, RetryCap = 6, TaskLogSd = scenario.DuplicateTail ? 0 : c.TaskLogSd })],
            Jobs = [.. scenario.Jobs.Select(j => j with { ReleaseMicroseconds = 0, JoinSecondsPerFrame = null, After = [] })],
            Closing = scenario.Closing == ClosingRule.Abandon ? ClosingRule.Finish : scenario.Closing,
            Sharing = SharingRule.Strict,
            NightFailure = null,
            DuplicateTail = false,
        };
        FarmPlan plan = new(apart);
        Assert.True(ListRun.Fits(plan));
        TaskRecordList fast = new();
        ReplicationResult? list = new ListRun(plan).Run(4, 2, fast, default);
        if (list is null)
        {
            Assert.Empty(fast.Rows);
            return;
        }

        Interlocked.Increment(ref compared);
        TaskRecordList slow = new();
        ReplicationResult events = new FarmPlans(apart, 4).RunEvents(new(), 2, slow, default);
        Assert.Equal(slow.Rows.OrderBy(r => r.Start).ThenBy(r => r.Node).ThenBy(r => r.End), fast.Rows.OrderBy(r => r.Start).ThenBy(r => r.Node).ThenBy(r => r.End));
        Assert.Equal(events.JobFinishes, list.JobFinishes);
        Assert.Equal((events.Finish, events.TasksDone, events.Failures, events.BusyMicroseconds, events.WastedMicroseconds), (list.Finish, list.TasksDone, list.Failures, list.BusyMicroseconds, list.WastedMicroseconds));
        Assert.Equal(events.TaskMicroseconds, list.TaskMicroseconds, 1.0);
    }
}
