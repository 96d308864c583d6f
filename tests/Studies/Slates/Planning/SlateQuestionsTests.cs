using PostPipeline.Slates.Planning;
using Xunit;
using static PostPipeline.Studies.Tests.Slates.Planning.SlatePlannerTests;

namespace PostPipeline.Studies.Tests.Slates.Planning;

// Derived examples, worked by hand in the comments: why a pipeline, taking an enquiry, planning again.
public class SlateQuestionsTests
{
    private static readonly PlanSettings Quick = new() { Seconds = 6, Workers = 1, Repeatable = true };

    [Fact]
    public void Reasons_NameLimitOrPrice()
    {
        // b went proxy: transcoding it would push one date by 4, and the farm is the limit. a stays: its proxy costs 5 more.
        SlateProblem slate = Slate([Project("a", 4, 10, 15), Project("b", 4, 10, 13)]);
        SlatePlan plan = Plan(slate);
        Alternative b = SlateReasons.Of(slate, plan, "b", Quick).Alternatives.Single();
        Assert.Equal(("transcode", PlanLevel.Money, 2L), (b.Pipeline, b.Worsens, b.By));

        // With a bound to transcode, b's other way is a matter of the farm.
        SlateProblem bound = slate with { Projects = [slate.Projects[0] with { Options = [slate.Projects[0].Options[0]] }, slate.Projects[1]] };
        Alternative late = SlateReasons.Of(bound, Plan(bound), "b", Quick).Alternatives.Single();
        Assert.Equal((PlanLevel.Lateness, 4L, "nodes"), (late.Worsens, late.By, late.Limit));
        Assert.Contains("4 half-days later; the limit is nodes", late.Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void Reasons_OwnLength_IsSaidAsSuch()
    {
        // Alone the transcode takes 4 half-days and is due after 3.
        SlateProblem slate = Slate([Project("a", 3, 10, 15)]);
        Alternative other = SlateReasons.OfAll(slate, Plan(slate), Quick).Single().Alternatives.Single();
        Assert.Equal((PlanLevel.Lateness, 1L, "the project's own length"), (other.Worsens, other.By, other.Limit));
    }

    [Fact]
    public void Ask_AnswersYesAtAPriceOrNo()
    {
        SlateProblem slate = Slate([Project("a", 4, 10, 15)]);
        Assert.Equal(EnquiryVerdict.Yes, Ask(Project("new", 8, 10, 15)).Verdict);

        // The new project can only transcode by 4: a gives way to proxy, 5 more.
        SlateProject only = Project("new", 4, 10, 15);
        only = only with { Options = [only.Options[0]] };
        EnquiryAnswer price = Ask(only);
        Assert.Equal((EnquiryVerdict.AtAPrice, 5L), (price.Verdict, price.Price));
        Assert.Equal(new PipelineChange("a", "transcode", "proxy", 5), price.Pipelines.Single());

        // Where a cannot give way, a date does.
        SlateProblem bound = Slate([slate.Projects[0] with { Weight = 9, Options = [slate.Projects[0].Options[0]] }]);
        EnquiryAnswer dates = SlateEnquiry.Ask(bound, only, Quick);
        Assert.Equal((EnquiryVerdict.OnlyIfDatesGiveWay, new DateChange("new", 0, 4)), (dates.Verdict, dates.Dates.Single()));

        // With a deadline on both there is no plan.
        EnquiryAnswer no = SlateEnquiry.Ask(bound with { Projects = [bound.Projects[0] with { Deadline = 4 }], }, only with { Deadline = 4 }, Quick);
        Assert.Equal(EnquiryVerdict.No, no.Verdict);
        Assert.NotEmpty(no.Obstacles);

        EnquiryAnswer Ask(SlateProject enquiry) => SlateEnquiry.Ask(slate, enquiry, Quick);
    }

    // What is open on given half-days only, such as a shoot, slips with its project; what others use stays.
    [Fact]
    public void Slip_MovesTheCalendarThatIsTheProjectsOwn()
    {
        SlateProblem slate = Slate([Project("a", 14, 10, 15), Project("b", 14, 10, 15)]);
        int slots = slate.Clock.Slots;
        SlateCalendar own = new("only a", [.. Enumerable.Range(0, slots).Select(s => s is 2 or 3)]);
        SlateCalendar all = new("all", [.. Enumerable.Repeat(true, slots)]);
        SlateProject On(SlateProject project, string calendar) => project with { Options = [.. project.Options.Select(o => o with { Stages = [.. o.Stages.Select((s, i) => i == 0 ? s with { Calendar = calendar } : s)] })] };
        slate = slate with { Calendars = [.. slate.Calendars, own, all], Projects = [On(slate.Projects[0], own.Name), On(slate.Projects[1], all.Name)] };
        SlateProblem slipped = SlateShocks.Slip(slate, "a", 4);
        Assert.Equal([6, 7], Enumerable.Range(0, slots).Where(s => slipped.Calendars.Single(c => c.Name == own.Name).Open[s]));
        Assert.Equal(all.Open, SlateShocks.Slip(slate, "a", 4).Calendars.Single(c => c.Name == all.Name).Open);
        Assert.Equal(4, slipped.Projects[0].Release - slate.Projects[0].Release);
    }

    [Fact]
    public void Replan_KeepsWhatHasStartedAndMovesTheLeast()
    {
        // Three transcodes of 4 half-days one after another; b's delivery moves from 8 to 12, c's stays at 12.
        // Nothing has to move: no change.
        SlateProject[] projects = [.. new[] { Project("a", 4, 1, 9), Project("b", 8, 1, 9), Project("c", 12, 1, 9) }.Select(p => p with { Options = [p.Options[0]] })];
        SlateProblem slate = Slate(projects);
        SlatePlan plan = Plan(slate);
        PlanAnswer same = RunningSlate.Replan(SlateShocks.MoveDue(slate, "b", 12), plan, 2, Quick);
        Assert.Equal(0, same.Plan!.Value(PlanLevel.Changes));
        Assert.Equal(plan.Projects.SelectMany(p => p.Stages), same.Plan.Projects.SelectMany(p => p.Stages));

        // b's work doubles at half-day 2: a has started and stays; b takes 4 to 12, c 12 to 16 and is 4 late, moved by 4.
        SlateOption b = slate.Projects[1].Options[0];
        SlateProblem grown = SlateShocks.Replace(slate, "b", [b with { Stages = [.. b.Stages.Select(Twice)] }]);
        SlatePlan again = RunningSlate.Replan(grown, plan, 2, Quick).Plan!;
        Assert.Empty(PlanChecker.Faults(RunningSlate.At(grown, plan, 2), again));
        Assert.Equal(plan.Of("a").Stages, again.Of("a").Stages);
        Assert.Equal(8, again.Value(PlanLevel.Lateness));
        static SlateStage Twice(SlateStage stage) => stage with { Farm = [.. stage.Farm.Select(f => f with { NodeHalfDays = f.NodeHalfDays * 2 })] };
    }

    // Three proxies of 3 half-days that share nothing and could all start at 0; the running plan has them at 5, 2 and 9.
    // a's delivery moves before its planned end: it has to move by at least 2, from 5 to 3, and nobody else has to at all.
    [Fact]
    public void Replan_ProjectsThatAreNotTouched_StayJustWhereTheyAre()
    {
        SlateProject[] projects = [.. new[] { "a", "b", "c" }.Select(n => Project(n, 20, 1, 1)).Select(p => p with { Options = [p.Options[1]] })];
        SlateProblem slate = Slate(projects);
        ProjectPlan At(string name, int start) => new(name, "proxy", [new("conform", start, start + 3, null, 0)], 0, 1);
        SlatePlan running = new([At("a", 5), At("b", 2), At("c", 9)], [], []);
        SlatePlan again = RunningSlate.Replan(SlateShocks.MoveDue(slate, "a", 6), running, 1, Quick).Plan!;
        Assert.Equal([3, 2, 9], again.Projects.Select(p => p.Stages[0].Start));
        Assert.Equal((2L, true), (again.Value(PlanLevel.Changes), again.Levels[^1].IsProven));
        Assert.Equal([1, 0, 0], again.Projects.Select(p => again.Moved(running, p.Project).Count));
    }

    // What is generated is not small: the search alone, without a proof, must leave the others where they were.
    [Theory]
    [InlineData(1)]
    [InlineData(3)]
    public void Replan_ProjectOfItsOwnSlips_MovesNothingElse(int seed)
    {
        SlateProblem house = SlateGenerator.Create(6, 0.6, seed, 10);
        SlateProject own = new("alone", 60, [new("proxy", [new("edit") { Duration = 10, NotBefore = 14 }, new("check") { After = [new("edit")], Duration = 2 }]) { Money = 1 }]);
        SlateProblem slate = house with { Projects = [.. house.Projects, own] };
        PlanSettings search = Quick with { Seconds = 2, Exact = false };
        SlatePlan running = SlatePlanner.Plan(slate, search).Plan!;
        Assert.Equal(0, running.Value(PlanLevel.Lateness));
        SlatePlan again = RunningSlate.Replan(SlateShocks.Slip(slate, "alone", 14), running, 7, search).Plan!;
        Assert.Equal(["edit", "check"], again.Moved(running, "alone"));

        // Only a plan that is better at an earlier level may move anybody else.
        bool better = again.Value(PlanLevel.Extras) < running.Value(PlanLevel.Extras) || again.Value(PlanLevel.Money) < running.Value(PlanLevel.Money);
        Assert.True(better || house.Projects.All(p => again.Moved(running, p.Name).Count == 0), $"seed {seed}");
        Assert.True(!better || again.Projects.Sum(p => again.Moved(running, p.Project).Count) < running.Projects.Sum(p => p.Stages.Count) / 2);
    }

    [Fact]
    public void Replan_ClassLost_PlansTheRestOnTheOther()
    {
        // 16 node-half-days on 4 nodes from 0; at 2 the class is lost with 8 done. The other class has 2 nodes and
        // takes 4 half-days for the other 8: the project ends at 6.
        SlateStage render = new("render") { Farm = [new("nodes", 16, [4]), new("others", 16, [2])] };
        SlateProblem slate = Slate([new("a", 4, [new("transcode", [render, new("check") { After = [new("render")], Duration = 1 }])])]);
        slate = slate with { Resources = [.. slate.Resources, new("others", SlateResourceKind.FarmClass, 2)] };
        SlatePlan plan = Plan(slate);
        SlateProblem lost = SlateShocks.Lose(slate, "nodes", 4, 2);
        SlateProblem running = RunningSlate.At(lost, plan, 2);
        SlatePlan again = RunningSlate.Replan(lost, plan, 2, Quick).Plan!;
        Assert.Empty(PlanChecker.Faults(running, again));
        Assert.Equal(new StagePlan("render (rest)", 2, 6, "others", 2), again.Of("a").Stages.Single(s => s.Stage == "render (rest)"));
        Assert.Equal(7, again.Of("a").End);
    }

    [Fact]
    public void Shocks_UnknownNames_AreRefused()
    {
        SlateProblem slate = Slate([Project("a", 4, 10, 15)]);
        Assert.Throws<ArgumentException>(() => SlateShocks.Slip(slate, "z", 14));
        Assert.Throws<ArgumentException>(() => SlateShocks.Lose(slate, "z", 1, 0));
        Assert.Throws<ArgumentException>(() => SlateReasons.Of(slate, Plan(slate), "z", Quick));
        Assert.Equal(14, SlateShocks.Slip(slate, "a", 14).Projects[0].Release);
    }
}
