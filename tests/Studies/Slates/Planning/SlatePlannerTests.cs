using NodaTime;
using PostPipeline.Slates.Planning;
using Xunit;

namespace PostPipeline.Studies.Tests.Slates.Planning;

// Derived examples: each expected value is worked by hand in the comment beside it. Every plan is also held against
// PlanChecker, which shares no code with the planner.
public class SlatePlannerTests
{
    private static readonly PlanSettings Quick = new() { Seconds = 4, Workers = 1, Repeatable = true };

    [Fact]
    public void Plan_TwoProjectsOneFarm_SendsTheCheaperWayOutToProxy()
    {
        // Transcoding takes 4 nodes × 4 half-days = all of the farm until the due date, and only one of two can do so.
        // Proxy costs a 5 more, b 3 more: b goes proxy, money 10 + 13.
        SlatePlan plan = Plan(Slate([Project("a", 4, 10, 15), Project("b", 4, 10, 13)]));
        Assert.Equal(("transcode", "proxy"), (plan.Of("a").Pipeline, plan.Of("b").Pipeline));
        AssertLevels(plan, 0, 0, 23);
    }

    [Fact]
    public void Plan_DatesThatCannotBothBeMet_MakesTheLighterProjectLate()
    {
        // Both must transcode, 4 half-days each, due at 4: the second ends at 8, 4 late; weights 3 and 1: 4.
        SlateProject[] projects = [.. new[] { Project("a", 4, 10, 15) with { Weight = 3 }, Project("b", 4, 10, 15) }
            .Select(p => p with { Options = [p.Options[0]] })];
        SlatePlan plan = Plan(Slate(projects));
        Assert.Equal((0, 4), (plan.Of("a").LateSlots, plan.Of("b").LateSlots));
        AssertLevels(plan, 4, 0, 20);
    }

    [Fact]
    public void Plan_Rental_CuresLatenessFromItsLeadOn()
    {
        // 16 node-half-days by 4 nodes from 0 end at 4. A second such project due at 8, released at 4, and a third the same:
        // one of them needs 4 nodes more from 4 on, in one period of 14 half-days from 0 (lead 0) at 7 each: 28.
        SlateProject[] projects = [.. new[] { Project("a", 8, 10, 15), Project("b", 8, 10, 15) }.Select(p => p with { Release = 4, Options = [p.Options[0]] })];
        SlateProblem slate = Slate(projects);
        SlateProblem rented = slate with { Resources = [slate.Resources[0] with { Rental = new(7, 4, 0) }, slate.Resources[1]] };
        AssertLevels(Plan(rented), 0, 28, 20);

        // With a lead of one half-day that period is not to be had: one project is 4 late.
        SlateProblem late = slate with { Resources = [slate.Resources[0] with { Rental = new(7, 4, 1) }, slate.Resources[1]] };
        AssertLevels(Plan(late), 4, 0, 20);
    }

    [Fact]
    public void Plan_FirstHold_NeverMakesAFirmProjectLate()
    {
        // The hold weighs more, but it is a hold: it gives way by 4.
        SlateProject[] projects = [.. new[] { Project("firm", 4, 10, 15), Project("hold", 4, 10, 15) with { Weight = 100, Hold = HoldRank.FirstHold, HoldExpires = 5 } }
            .Select(p => p with { Options = [p.Options[0]] })];
        SlatePlan plan = Plan(Slate(projects));
        Assert.Equal((0, 4), (plan.Of("firm").LateSlots, plan.Of("hold").LateSlots));
        Assert.Equal([PlanLevel.Lateness, PlanLevel.FirstHoldLateness, PlanLevel.Extras, PlanLevel.Money], plan.Levels.Select(l => l.Level));
        Assert.Equal([0L, 400L, 0L, 20L], plan.Levels.Select(l => l.Value));
    }

    [Fact]
    public void Plan_Storage_LivesUntilTheLastStageAndItsLag()
    {
        // 60 of 100 TB from the transcode's start to the end of the check and 2 half-days more. One stage of 4 and one of 2:
        // the second project may start at 4 + 2 + 2 = 8 and ends at 14.
        SlateProject[] projects = [.. new[] { "a", "b" }.Select(n => new SlateProject(n, 6, [new SlateOption("transcode",
            [Farm("transcode", 16), new("check") { After = [new("transcode")], Duration = 2 }])
        { Lives = [new("mezzanine", "online", 60, "transcode", "check", 2)], Money = 1 }]))];
        SlatePlan plan = Plan(Slate(projects));
        Assert.Equal(14, plan.Projects.Max(p => p.End));
        AssertLevels(plan, 8, 0, 2);
    }

    [Fact]
    public void Plan_RandomTinySlates_EqualTheBestOfAllPlans()
    {
        int fit = 0;

        // In the last of them a generation's last stage may end before its first begins: it then holds nothing.
        foreach (int seed in Enumerable.Range(1, Count(25, 400)).Append(136).Distinct())
        {
            SlateProblem problem = TinySlate.Create(seed);
            (long Lateness, long Extras, long Money)? least = TinySlate.Least(problem);
            PlanAnswer answer = SlatePlanner.Plan(problem, Quick);
            Assert.Equal(least is null, answer.Plan is null);
            if (answer.Plan is not SlatePlan plan)
            {
                Assert.True(answer.ProvenImpossible, $"seed {seed}");
                Assert.NotEmpty(answer.Obstacles);
                continue;
            }

            fit++;
            Assert.Empty(PlanChecker.Faults(problem, plan));
            Assert.True(plan.Levels.All(l => l.IsProven), $"seed {seed}: {string.Join(", ", plan.Levels)}");
            Assert.Equal(least!.Value, (plan.Value(PlanLevel.Lateness), plan.Value(PlanLevel.Extras), plan.Value(PlanLevel.Money)));
        }

        Assert.True(fit > 12, $"only {fit} slates had a plan");
    }

    [Fact]
    public void Plan_GeneratedSlates_KeepEveryLimit()
    {
        for (int seed = 1; seed <= Count(4, 60); seed++)
        {
            SlateProblem problem = SlateGenerator.Create(4 + (seed % 9), 0.6 + (0.1 * (seed % 6)), seed, 10);
            SlatePlan plan = SlatePlanner.Plan(problem, Quick with { Seconds = 1, Repeatable = false }).Plan!;
            Assert.Empty(PlanChecker.Faults(problem, plan));
        }
    }

    [Fact]
    public void Plan_Repeatable_IsTheSameOnOneThreadAndTwo()
    {
        SlateProblem problem = SlateGenerator.Create(12, 0.9, 5, 12);
        SlatePlan one = SlatePlanner.Plan(problem, Quick with { Seconds = 1, Seed = 7 }).Plan!;
        SlatePlan two = SlatePlanner.Plan(problem, Quick with { Seconds = 1, Seed = 7, Workers = 2 }).Plan!;
        Assert.Equal(one.Levels, two.Levels);
        Assert.Equal(one.Projects.SelectMany(p => p.Stages), two.Projects.SelectMany(p => p.Stages));
    }

    // The time is counted in steps here: an aim that stays open has as many reports of progress as it was given time.
    [Fact]
    public void Plan_SharesOfTheTime_GoToTheAimsThatTheUserNames()
    {
        SlateProblem problem = SlateGenerator.Create(10, 1.2, 4, 10);
        (int Extras, int Money) Reports(double extras, double money)
        {
            Dictionary<PlanLevel, int> reports = [];
            PlanAnswer answer = SlatePlanner.Plan(
                problem,
                Quick with { Seconds = 2, Exact = false, Shares = new Dictionary<PlanLevel, double> { [PlanLevel.Lateness] = 0.001, [PlanLevel.Extras] = extras, [PlanLevel.Money] = money } },
                progress: new Counting(p => reports[p.Level] = 1 + reports.GetValueOrDefault(p.Level)));
            Assert.False(answer.Plan!.Levels.Single(l => l.Level == PlanLevel.Extras).IsProven);
            return (reports[PlanLevel.Extras], reports[PlanLevel.Money]);
        }

        (int Extras, int Money) first = Reports(9, 1);
        (int Extras, int Money) second = Reports(1, 9);
        Assert.InRange(first.Extras, 3 * second.Extras, 20 * second.Extras);
        Assert.InRange(second.Money, 3 * first.Money, 20 * first.Money);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(-1)]
    [InlineData(double.NaN)]
    public void Plan_ShareThatIsNone_IsRefused(double share) => Assert.Throws<ArgumentOutOfRangeException>(() =>
        SlatePlanner.Plan(Slate([Project("a", 4, 1, 2)]), Quick with { Shares = new Dictionary<PlanLevel, double> { [PlanLevel.Money] = share } }));

    [Fact]
    public void Plan_DeadlineBeforeTheEarliestEnd_NamesProjectAndReason()
    {
        PlanAnswer answer = SlatePlanner.Plan(Slate([Project("a", 4, 1, 2) with { Deadline = 2 }]), Quick);
        Assert.True(answer.ProvenImpossible);
        Assert.Contains("a cannot be planned even alone", answer.Obstacles.Single(), StringComparison.Ordinal);
        Assert.Contains("the deadline is 2", answer.Obstacles.Single(), StringComparison.Ordinal);
    }

    [Fact]
    public void Plan_Cancelled_AnswersWithTheBestSoFar()
    {
        SlateProblem problem = SlateGenerator.Create(30, 0.85, 3);
        using CancellationTokenSource stop = new(TimeSpan.FromSeconds(1.5));
        PlanAnswer answer = SlatePlanner.Plan(problem, new() { Seconds = 600 }, cancellation: stop.Token);
        if (answer.Plan is SlatePlan plan)
        {
            Assert.Empty(PlanChecker.Faults(problem, plan));
        }
        else
        {
            Assert.False(answer.ProvenImpossible);
        }
    }

    internal static SlateProblem Slate(IReadOnlyList<SlateProject> projects) => new()
    {
        Clock = new(new LocalDate(2030, 1, 7), 40),
        Resources = [new("nodes", SlateResourceKind.FarmClass, 4), new("online", SlateResourceKind.Storage, 100)],
        Projects = projects,
    };

    internal static SlateProject Project(string name, int due, long transcode, long proxy) => new(name, due,
    [
        new("transcode", [Farm("transcode", 16)]) { Money = transcode },
        new("proxy", [new("conform") { Duration = 3 }]) { Money = proxy },
    ]);

    internal static SlateStage Farm(string name, double work) => new(name) { Farm = [new("nodes", work, [2, 4])] };

    internal static SlatePlan Plan(SlateProblem problem)
    {
        SlatePlan plan = SlatePlanner.Plan(problem, Quick).Plan!;
        Assert.Empty(PlanChecker.Faults(problem, plan));
        return plan;
    }

    private static void AssertLevels(SlatePlan plan, long lateness, long extras, long money)
    {
        Assert.Equal(
            [new(PlanLevel.Lateness, lateness, lateness), new(PlanLevel.Extras, extras, extras), new PlanLevelResult(PlanLevel.Money, money, money)],
            plan.Levels);
    }

    private sealed class Counting(Action<PlanProgress> report) : IProgress<PlanProgress>
    {
        public void Report(PlanProgress value) => report(value);
    }

    private static int Count(int fast, int full) => Environment.GetEnvironmentVariable("POSTPIPELINE_LONG") == "1" ? full : fast;
}
