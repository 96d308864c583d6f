using PostPipeline.Quantities.Randomness;
using PostPipeline.RenderTimes;
using PostPipeline.RenderTimes.FarmLogs;
using Xunit;

namespace PostPipeline.Domain.Tests.RenderTimes;

/// <summary>Derived examples: a log is made from known figures, and the figures are read back.</summary>
public class FarmLogReaderTests
{
    private const double Overhead = 30;

    // 2026-03-02 00:00 UTC.
    private const double Midnight = 1_772_409_600;

    [Fact]
    public void Summarize_KnownFarm_FindsSecondsPerFrameAndOverhead()
    {
        FarmLogSummary summary = FarmLogReader.Summarize(Log(), 0);
        Assert.InRange(summary.TaskOverheadSeconds, Overhead - (4 * summary.TaskOverheadError), Overhead + (4 * summary.TaskOverheadError));
        Assert.InRange(summary.TaskOverheadError, 0, 2);
        Assert.InRange(summary.Jobs.Single(j => j.Job == "grade").SecondsPerFrame, 0.49, 0.51);
        Assert.InRange(summary.Jobs.Single(j => j.Job == "proxy").SecondsPerFrame, 0.078, 0.082);
        Assert.Equal(1, summary.Jobs.Sum(j => j.NodeShare), 1e-12);
    }

    [Fact]
    public void Summarize_OneNodeHalfAsFast_IsTheOnlySlowOne()
    {
        FarmLogSummary summary = FarmLogReader.Summarize(Log(), 0);
        LoggedNode slow = Assert.Single(summary.Nodes, n => n.Slow);
        Assert.Equal("n4", slow.Node);
        Assert.InRange(slow.TimeFactor, 1.9, 2.1);
    }

    [Fact]
    public void Summarize_FailuresAndRetries_AreCounted()
    {
        FarmLogEntry[] log =
        [
            Entry("a", "1", "n1", 0, 100, 10, AttemptState.Failed),
            Entry("a", "1", "n1", 100, 100, 10, AttemptState.Done),
            Entry("a", "2", "n1", 200, 100, 10, AttemptState.Failed),
            Entry("a", "3", "n1", 300, 100, 10, AttemptState.Done),
            Entry("a", "4", "n1", 400, 0, 10, AttemptState.Running),
        ];
        FarmLogSummary summary = FarmLogReader.Summarize(log, 0);
        Assert.Equal(0.5, summary.FailureRate);
        Assert.Equal(0.25, summary.RetryRate);
        Assert.Equal(1, summary.NeverDone);
        Assert.Equal((5, 4), (summary.Attempts, summary.Tasks));

        // All tasks have ten frames: nothing tells overhead from work.
        Assert.True(double.IsNaN(summary.TaskOverheadSeconds));

        // Published value: Wilson's interval for 2 of 4 at 90 % (z = 1.644854) is 0.5 ± z/(1+z²/4)·√(1/16 + z²/64).
        Assert.Equal(0.182, summary.FailureLow, 0.001);
        Assert.Equal(0.818, summary.FailureHigh, 0.001);
    }

    // By hand: task 1 was done at its third attempt and has no other row, so two failed before; task 2 has both its rows;
    // task 3 says nothing. Of six attempts, four with a row, three failed; two tasks of three were tried again.
    [Fact]
    public void Summarize_NumberedAttempts_TellOfThoseWithoutARow()
    {
        FarmLogEntry[] log =
        [
            Entry("a", "1", "n1", 0, 100, 10, AttemptState.Done) with { Attempt = 3 },
            Entry("a", "2", "n1", 100, 100, 10, AttemptState.Failed) with { Attempt = 1 },
            Entry("a", "2", "n1", 200, 100, 10, AttemptState.Done) with { Attempt = 2 },
            Entry("a", "3", "n1", 300, 100, 10, AttemptState.Done),
        ];
        FarmLogSummary summary = FarmLogReader.Summarize(log, 0);
        Assert.Equal((4, 2), (summary.Attempts, summary.UnloggedAttempts));
        Assert.Equal(3.0 / 6, summary.FailureRate, 1e-12);
        Assert.Equal(2.0 / 3, summary.RetryRate, 1e-12);
        Assert.Equal(0, summary.NeverDone);
    }

    [Fact]
    public void Summarize_NightsOnly_ShowInTheHours()
    {
        // Two nodes work from 20:00 to 06:00 on two nights; the log's clock is an hour ahead of UTC.
        List<FarmLogEntry> log = [];
        for (int night = 0; night < 2; night++)
        {
            for (int node = 0; node < 2; node++)
            {
                log.Add(new("a", $"{night}.{node}", $"n{node}", Midnight + (night * 86_400) + (19 * 3_600), Midnight + (night * 86_400) + (29 * 3_600), 100, AttemptState.Done));
            }
        }

        FarmLogSummary summary = FarmLogReader.Summarize(log, 60);
        Assert.Equal(24, summary.Hours.Length);
        Assert.Equal(1, summary.Hours[20].ActiveShare);
        Assert.Equal(1, summary.Hours[3].BusyShare, 1e-9);
        Assert.Equal(0, summary.Hours[12].BusyShare);
    }

    [Theory]
    [InlineData("", "1", "n", 0.0, 10.0, 1, "job")]
    [InlineData("a", "1", "n", 10.0, 0.0, 1, "end")]
    [InlineData("a", "1", "n", 0.0, 10.0, 0, "frames")]
    public void Violation_WrongEntry_NamesTheField(string job, string task, string node, double start, double end, long frames, string field) =>
        Assert.Equal(field, new FarmLogEntry(job, task, node, start, end, frames, AttemptState.Done).Violation()!.Value.Field);

    [Theory]
    [InlineData(-1)]
    [InlineData(10_001)]
    public void Violation_AttemptThatCannotBe_SaysWhatIsAllowed(int attempt)
    {
        RowViolation wrong = (Entry("a", "1", "n", 0, 10, 1, AttemptState.Done) with { Attempt = attempt }).Violation()!.Value;
        Assert.Equal(("attempt", $"{attempt}; allowed is 1 to 10000, or 0 where the log does not say"), (wrong.Field, wrong.Description));
        Assert.Equal("it has 201 characters; allowed is 1 to 200", Entry(new string('j', 201), "1", "n", 0, 10, 1, AttemptState.Done).Violation()!.Value.Description);
    }

    // Two attempts of a node in one hour are one hour of it, in whatever order the log has them; another node's is another.
    [Fact]
    public void Summarize_AttemptsInOneHour_CountTheNodeOnce()
    {
        FarmLogEntry[] log =
        [
            Entry("a", "2", "n1", 1_800, 900, 10, AttemptState.Done),
            Entry("a", "1", "n1", 0, 900, 10, AttemptState.Done),
            Entry("a", "3", "n2", 0, 7_200, 10, AttemptState.Done),
        ];
        FarmLogSummary summary = FarmLogReader.Summarize(log, 0);
        Assert.Equal((1, 0.75), (summary.Hours[0].ActiveShare, summary.Hours[0].BusyShare));
        Assert.Equal((0.5, 0.5), (summary.Hours[1].ActiveShare, summary.Hours[1].BusyShare));
    }

    // Half past midnight UTC on the first of January 1970 is half past ten in the morning of the day before, 14 h behind.
    [Fact]
    public void Summarize_BeforeTheEpochOnTheLogsClock_FallsIntoItsHour()
    {
        FarmLogSummary summary = FarmLogReader.Summarize([new("a", "1", "n", 1_800, 3_600, 10, AttemptState.Done)], -840);
        Assert.Equal((1, 0.5), (summary.Hours[10].ActiveShare, summary.Hours[10].BusyShare));
    }

    private static FarmLogEntry[] Log()
    {
        RandomStream random = new(3, RandomPurpose.Durations);
        List<FarmLogEntry> log = [];
        for (int task = 0; task < 600; task++)
        {
            (string job, double perFrame) = task % 2 == 0 ? ("grade", 0.5) : ("proxy", 0.08);
            long frames = 100 + (100 * (task % 7));
            int node = (task / 2) % 8;

            // Every fiftieth task stumbled over something and took four times as long.
            double seconds = (Overhead + (perFrame * frames * (node == 4 ? 2 : 1) * (1 + (0.03 * random.NextNormal())))) * (task % 50 == 49 ? 4 : 1);
            log.Add(Entry(job, $"{task}", $"n{node}", task * 60, seconds, frames, AttemptState.Done));
        }

        return [.. log];
    }

    private static FarmLogEntry Entry(string job, string task, string node, double start, double seconds, long frames, AttemptState state) =>
        new(job, task, node, Midnight + start, Midnight + start + seconds, frames, state);
}
