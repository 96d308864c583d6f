using PostPipeline.Slates.Planning;
using Xunit;
using static PostPipeline.Studies.Tests.Slates.Planning.SlatePlannerTests;

namespace PostPipeline.Studies.Tests.Slates.Planning;

// Derived examples, worked by hand in the comments: planning on from a plan that is followed.
public class RunningPlanTests
{
    private static readonly PlanSettings Quick = new() { Seconds = 4, Workers = 1, Repeatable = true };

    // Two transcodes of 16 node-half-days, released at 14 and due at 18: both take 4 nodes for 4 half-days, so 4 are rented
    // beside the house's 4 in the period from 14 to 28, at 7 each. The lead is 14 half-days: at 0 the rent can still be
    // ordered or not; at 14 and at 16 it has been, and a new order would work from 28 on only.
    [Theory]
    [InlineData(0)]
    [InlineData(14)]
    [InlineData(16)]
    public void Replan_NothingHappened_KeepsPlaceAndRent(int now)
    {
        (SlateProblem slate, SlatePlan plan) = Rented();
        Assert.Equal([new RentalPlan("nodes", 14, 28, 4, 28)], plan.Rentals);
        SlatePlan again = RunningSlate.Replan(slate, plan, now, Quick).Plan!;
        Assert.Equal(plan.Projects.SelectMany(p => p.Stages), again.Projects.SelectMany(p => p.Stages));
        Assert.Equal(plan.Rentals, again.Rentals);
        Assert.Equal([0L, 28L, 20L, 0L], again.Levels.Select(l => l.Value));
        Assert.All(again.Levels, l => Assert.True(l.IsProven));
    }

    // b's work doubles at 16, when both run: on its 4 nodes it lasts from 14 to 22, inside what is rented, and is 4 late.
    // What has been ordered is paid for whatever is planned.
    [Fact]
    public void Replan_StartedOnRentedNodes_GoesOnOnThem()
    {
        (SlateProblem slate, SlatePlan plan) = Rented();
        SlateOption b = slate.Projects[1].Options[0];
        SlateProblem grown = SlateShocks.Replace(slate, "b", [b with { Stages = [Farm("transcode", 32)] }]);
        SlatePlan again = RunningSlate.Replan(grown, plan, 16, Quick).Plan!;
        Assert.Equal(plan.Of("a").Stages, again.Of("a").Stages);
        Assert.Equal(new StagePlan("transcode", 14, 22, "nodes", 4), again.Of("b").Stages.Single());
        Assert.Equal((4L, 28L), (again.Value(PlanLevel.Lateness), again.Rented));

        // Where b is dropped, its rent stands all the same.
        SlateProblem alone = slate with { Projects = [slate.Projects[0]] };
        Assert.Equal(28, RunningSlate.Replan(alone, plan, 16, Quick).Plan!.Rented);
    }

    // a follows its plan and transcodes from 4 to 8 on all 4 nodes, though it could from 0: a new project that leaves it there
    // moves nothing; one that can only run from 4 to 8 sends it to 0, unless it has started.
    [Fact]
    public void Ask_PlanThatIsFollowed_MovesOnlyForWhatCannotBeElsewhere()
    {
        SlateProject a = Project("a", 8, 1, 9);
        SlateProblem slate = Slate([a with { Options = [a.Options[0]] }]);
        SlatePlan running = new([new("a", "transcode", [new("transcode", 4, 8, "nodes", 4)], 0, 1)], [], []);
        EnquiryAnswer first = Ask(Only(4, 0), 0);
        Assert.Equal((EnquiryVerdict.Yes, 0L), (first.Verdict, first.Price));
        Assert.Same(running, first.Without);
        Assert.Equal((4, 0), (Start(first, "a"), Start(first, "new")));

        EnquiryAnswer second = Ask(Only(8, 4), 0);
        Assert.Equal(EnquiryVerdict.Yes, second.Verdict);
        Assert.Equal((0, 4), (Start(second, "a"), Start(second, "new")));
        Assert.Equal(4, second.With!.Value(PlanLevel.Changes));

        EnquiryAnswer third = Ask(Only(8, 4), 5);
        Assert.Equal((EnquiryVerdict.OnlyIfDatesGiveWay, new DateChange("new", 0, 4)), (third.Verdict, third.Dates.Single()));
        Assert.Equal((4, 8), (Start(third, "a"), Start(third, "new")));

        EnquiryAnswer Ask(SlateProject enquiry, int now) => SlateEnquiry.Ask(slate, enquiry, Quick, running, now);
        static int Start(EnquiryAnswer answer, string project) => answer.With!.Of(project).Stages[0].Start;
        static SlateProject Only(int due, int release) => Project("new", due, 1, 9) with { Release = release, Options = [new("transcode", [new("transcode") { Farm = [new("nodes", 16, [4])] }]) { Money = 1 }] };
    }

    // A digest sees every duration, wait, use, calendar and limit, and no date, weight or price.
    [Fact]
    public void Digest_OfWorkAndHouse_ChangesWithWhatAPlanHangsOn()
    {
        (SlateProblem slate, _) = Rented();
        SlateProject a = slate.Projects[0];
        string work = PlanDigest.OfProject(a);
        Assert.Equal(work, PlanDigest.OfProject(a with { Due = 30, Weight = 9, Hold = HoldRank.FirstHold, Options = [a.Options[0] with { Money = 77 }] }));
        SlateStage stage = a.Options[0].Stages[0];
        string With(SlateStage other) => PlanDigest.OfProject(a with { Options = [a.Options[0] with { Stages = [other] }] });
        string[] others =
        [
            With(Farm("transcode", 17)), With(stage with { NotBefore = 1 }), With(stage with { Calendar = "days" }), With(stage with { Uses = [new("online", 1)] }),
            With(stage with { After = [new("transcode")] }), PlanDigest.OfProject(a with { Release = 1 }), PlanDigest.OfProject(a with { Name = "a\tb" }),
            PlanDigest.OfProject(a with { Options = [a.Options[0] with { Lives = [new("mezzanine", "online", 1, "transcode", "transcode")] }] }),
        ];
        Assert.Equal(others.Length + 1, others.Append(work).Distinct().Count());

        string house = PlanDigest.OfHouse(slate);
        Assert.Equal(house, PlanDigest.OfHouse(slate with { Projects = [], Now = 3 }));
        SlateResource nodes = slate.Resources[0];
        string Of(SlateResource other) => PlanDigest.OfHouse(slate with { Resources = [other, slate.Resources[1]] });
        string[] houses = [Of(nodes with { Capacity = 5 }), Of(nodes with { Rental = null }), Of(nodes with { Outages = [new(0, 1, 1, "maintenance")] }), PlanDigest.OfHouse(slate with { Clock = slate.Clock with { Slots = 41 } })];
        Assert.Equal(houses.Length + 1, houses.Append(house).Distinct().Count());
    }

    private static (SlateProblem Slate, SlatePlan Plan) Rented()
    {
        SlateProject[] projects = [.. new[] { "a", "b" }.Select(n => Project(n, 18, 10, 15)).Select(p => p with { Release = 14, Options = [p.Options[0]] })];
        SlateProblem slate = Slate(projects);
        slate = slate with { Resources = [slate.Resources[0] with { Rental = new(7, 4, 14) }, slate.Resources[1]] };
        return (slate, Plan(slate));
    }
}
