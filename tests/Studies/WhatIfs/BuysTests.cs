using PostPipeline.Studies.WhatIfs;
using Xunit;

namespace PostPipeline.Studies.Tests.WhatIfs;

/// <summary>
/// What one more of something buys, where it can be worked by hand. Invented briefs; common practice, no source. One shoot
/// day, Monday 2026-09-07: three cameras for 2.5 h at 24 a second are 648,000 frames, where post works at 22:00. Nothing is
/// uncertain, the lock is not waited for, and what follows the farm is off unless a test says otherwise.
/// </summary>
public sealed class BuysTests
{
    private const string Finish = "finish: {sync: SYNC, hand_over: HAND, grade: 0 h, quality_check: 0, versions: 1, renders: 0 B}";

    private static StudyModel Model(string pipeline, string sync = "0", string handOver = "0 h", int days = 1, string more = "")
    {
        string text = StudyFixtures.ThreeCameras
            .Replace("days: 25", $"days: {days}\n  day_spread: 0", StringComparison.Ordinal)
            .Replace("finished: 110 min", "finished: 10 min\n  lock_slip: 0 d\n  after_material: 0 d", StringComparison.Ordinal)
            .Replace("lock: 2027-03-01", "lock: 2026-09-07", StringComparison.Ordinal)
            .Replace("  raster: 3840x2160", "  raster: 3840x2160\n  review_rounds: 0", StringComparison.Ordinal)
            + $"\npipelines: [{pipeline}]\ncaches: 0 %\nproxies: {{names_kept: yes}}\nseats: {{decode: 200}}\n"
            + Finish.Replace("SYNC", sync, StringComparison.Ordinal).Replace("HAND", handOver, StringComparison.Ordinal)
            + "\nfarm: {overhead: 0 s, failures: 0 %, available: 100 %, other_work: 0 %, open: '00:00', close: '00:00', nodes: [{name: node, count: 4}]}\n" + more;
        PreparedStudy study = StudyFixtures.Prepared(text);
        return new(study with { Jobs = [.. study.Jobs.Select(j => j with { LogDeviation = 0 })] });
    }

    private static Purchase Bought(StudyModel model, string what) => Buys.Of(model, 20).Single(p => p.What == what);

    // Convert: 648,000 × 0.1 s ÷ 4 = 16,200 s, ÷ 5 = 12,960 s. Final render: 14,400 frames × 0.8 s ÷ 4 = 2,880 s, ÷ 5 = 2,304 s.
    // A node more saves 3,240 + 576 = 3,816 s. Native converts nothing and renders at 1 s: 3,600 − 2,880 = 720 s.
    [Theory]
    [InlineData("transcode", 3816)]
    [InlineData("native", 720)]
    public void Node_OneMore_SavesItsShareOfTheFarmsTime(string pipeline, double seconds)
    {
        Purchase bought = Bought(Model(pipeline), "one more node 'node'");
        Assert.Equal(seconds, bought.SecondsSaved, 2.0);
        Assert.Equal(0, bought.OnTimeGained);
    }

    // Sync of 7.5 h at 0.5 is 3.75 person-hours from Tuesday 09:00, hand-over 8. Alone: sync until 12:45, hand-over 5.25 h until
    // 18:00 and 2.75 h on Wednesday until 11:45. Two: sync until 10:52:30, hand-over 4 h until 14:52:30 on Tuesday. Then the
    // render, 48 min in both: 20 h 52 min 30 s less. Who grades or checks changes nothing.
    [Theory]
    [InlineData("one more assistant", 75_150)]
    [InlineData("one more grader", 0)]
    [InlineData("one more checker", 0)]
    public void Person_OneMore_SavesWorkingHoursAndTheNightBetween(string what, double seconds) =>
        Assert.Equal(seconds, Bought(Model("transcode", "0.5", "8 h"), what).SecondsSaved, 2.0);

    // 25 days of originals are 71.66 TB. Of 100 TB bought 64 may be filled: ÷ 1.25 redundancy, × 0.8 free. 8 TB of usable space
    // and 64 hold them, 7 and 64 do not; where they fit already nothing opens. Dates do not hang on it.
    [Theory]
    [InlineData("12.5 TB", true)]
    [InlineData("10.9375 TB", false)]
    [InlineData("112.5 TB", false)]
    public void Storage_HundredTerabytes_OpenTheGateThatTheyFill(string capacity, bool opens)
    {
        Purchase bought = Bought(Model("native", days: 25, more: $"storage: {{online: {{capacity: {capacity}}}, nearline: {{capacity: 1 PB}}}}\n"), "100 TB online");
        Assert.Equal(opens ? ["online capacity"] : [], bought.Opens);
        Assert.Equal((0, 0), (bought.SecondsSaved, bought.OnTimeGained));
        Assert.Empty(Bought(Model("native", days: 25, more: $"storage: {{online: {{capacity: {capacity}}}, nearline: {{capacity: 1 PB}}}}\n"), "100 TB nearline").Opens);
    }
}
