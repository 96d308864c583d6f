using PostPipeline.Slates.Scheduling;
using PostPipeline.Slates.Solving;
using Xunit;

namespace PostPipeline.Studies.Tests.Slates;

// Derived examples: each expected value is worked by hand in the comment beside it.
public class ScheduleSolverTests
{
    private static readonly SolverSettings Quick = new() { Seconds = 10, Workers = 1, Repeatable = true };

    [Fact]
    public void Solve_ThreeTasksOnTwoUnits_EndsInTwoRounds()
    {
        // Three tasks of 4 slots, one unit each, two units: 4 + 4 = 8.
        ScheduleProblem problem = new()
        {
            Horizon = 20,
            Resources = [new("suites", 2)],
            Tasks = [.. Enumerable.Range(0, 3).Select(i => new ScheduleTask($"t{i}", [new(4, [new(0, 1)])]))],
        };
        Assert.Equal(new LevelResult(ScheduleLevel.Makespan, 8, 8), Solve(problem, ScheduleLevel.Makespan).Levels.Single());
    }

    [Fact]
    public void Solve_TwoModes_TakesTheOneThatMeetsTheDate()
    {
        // 40 node-slots of work: two nodes take 20 slots and cost nothing, eight take 5 and cost 3. Due in 5.
        ScheduleProblem problem = new()
        {
            Horizon = 40,
            Resources = [new("nodes", 8)],
            Tasks = [new("render", [new(20, [new(0, 2)]), new(5, [new(0, 8)], 3)]) { Due = 5 }],
        };
        SchedulePlan plan = Solve(problem, ScheduleLevel.WeightedLateness, ScheduleLevel.Money);
        Assert.Equal([0L, 3L], plan.Levels.Select(l => l.Value));
        Assert.Equal(1, plan.Tasks.Single().Mode);
    }

    [Fact]
    public void Solve_Choice_TakesExactlyOneOptionAndOnlyItsTasks()
    {
        ScheduleProblem problem = new()
        {
            Horizon = 30,
            Resources = [new("nodes", 1)],
            Options = [new("transcode", 1), new("proxy", 5)],
            Choices = [new("pipeline", [0, 1])],
            Tasks =
            [
                new("convert", [new(10, [new(0, 1)])]) { Option = 0, Due = 10 },
                new("conform", [new(4, [])]) { Option = 1, Due = 4 },
            ],
        };
        Assert.Equal([0], Solve(problem, ScheduleLevel.WeightedLateness, ScheduleLevel.Money).Options);
        ScheduleProblem forbidden = problem with { Options = [new("transcode", 1, Forbidden: true), new("proxy", 5)] };
        SchedulePlan other = Solve(forbidden, ScheduleLevel.WeightedLateness, ScheduleLevel.Money);
        Assert.Equal([1], other.Options);
        Assert.Equal(1, Assert.Single(other.Tasks).Task);
    }

    [Fact]
    public void Solve_HoldOverTwoTasks_KeepsTheSecondPairWaiting()
    {
        // Each pair holds 60 of 100 from the first task's start to the second's end (3 + 3 slots): 6 + 6 = 12.
        ScheduleProblem problem = new()
        {
            Horizon = 40,
            Resources = [new("terabytes", 100)],
            Tasks = [.. Enumerable.Range(0, 4).Select(i => new ScheduleTask($"t{i}", [new(3, [])]))],
            Precedences = [new(0, 1), new(2, 3)],
            Holds = [new("a", new(0, 60), 0, 1), new("b", new(0, 60), 2, 3)],
        };
        Assert.Equal(12, Solve(problem, ScheduleLevel.Makespan).Levels.Single().Value);
    }

    [Fact]
    public void Solve_Extras_AreRentedOnlyWhereTheyCureLateness()
    {
        // Two tasks of 5 slots due at 5 on one unit: one is 5 late, or one unit is rented for 7.
        ScheduleProblem problem = new()
        {
            Horizon = 40,
            Resources = [new("suites", 1, MostExtra: 3, ExtraPrice: 7)],
            Tasks = [.. Enumerable.Range(0, 2).Select(i => new ScheduleTask($"t{i}", [new(5, [new(0, 1)])]) { Due = 5 })],
        };
        SchedulePlan plan = Solve(problem, ScheduleLevel.WeightedLateness, ScheduleLevel.Extras);
        Assert.Equal([0L, 7L], plan.Levels.Select(l => l.Value));
        Assert.Equal([new ExtraPlan(0, 0, 40, 1)], plan.Extras);
        Assert.Equal(5, Solve(problem with { Resources = [new("suites", 1)] }, ScheduleLevel.WeightedLateness).Levels.Single().Value);
    }

    [Fact]
    public void Solve_Calendar_WalksClosedSlots()
    {
        // Open 5 of 7 slots: 6 slots of work from slot 0 end after 5 open, 2 closed, 1 open = 8.
        SlotCalendar calendar = new([.. Enumerable.Range(0, 30).Select(s => s % 7 < 5)]);
        ScheduleProblem problem = new()
        {
            Horizon = 30,
            Resources = [],
            Calendars = [calendar],
            Tasks = [new("grade", [new(6, [])]) { Calendar = 0 }],
        };
        Assert.Equal(8, Solve(problem, ScheduleLevel.Makespan).Levels.Single().Value);
        Assert.Equal(8, calendar.End(0, 6));
        Assert.Equal(5, calendar.End(5, 0));
        Assert.Equal(8, calendar.End(5, 1));
        Assert.Null(calendar.End(29, 30));
    }

    [Fact]
    public void Solve_DeadlineThatCannotBeMet_IsProvenImpossible()
    {
        ScheduleProblem problem = new()
        {
            Horizon = 30,
            Resources = [new("suites", 1)],
            Tasks = [.. Enumerable.Range(0, 2).Select(i => new ScheduleTask($"t{i}", [new(5, [new(0, 1)])]) { Deadline = 9 })],
        };
        ScheduleAnswer answer = ScheduleSolver.Solve(problem, [ScheduleLevel.Makespan], Quick);
        Assert.Null(answer.Plan);
        Assert.True(answer.ProvenImpossible);
    }

    [Fact]
    public void Solve_RunningPlan_ChangesAsLittleAsTheLatenessAllows()
    {
        // The planned order stands though the other would do as well.
        ScheduleProblem problem = new()
        {
            Horizon = 30,
            Resources = [new("suites", 1)],
            Tasks =
            [
                new("a", [new(5, [new(0, 1)])]) { PlannedStart = 5 },
                new("b", [new(5, [new(0, 1)])]) { PlannedStart = 0 },
            ],
        };
        SchedulePlan plan = Solve(problem, ScheduleLevel.Makespan, ScheduleLevel.Changes);
        Assert.Equal([10L, 0L], plan.Levels.Select(l => l.Value));
        Assert.Equal([5, 0], plan.Tasks.Select(t => t.Start));
    }

    [Fact]
    public void Solve_UnknownResource_IsRefusedByName()
    {
        ScheduleProblem problem = new() { Horizon = 5, Resources = [], Tasks = [new("grade", [new(1, [new(0, 1)])])] };
        ArgumentException error = Assert.Throws<ArgumentException>(() => ScheduleSolver.Solve(problem, [ScheduleLevel.Makespan], Quick));
        Assert.Contains("grade uses 1 of resource 0", error.Message, StringComparison.Ordinal);
    }

    private static SchedulePlan Solve(ScheduleProblem problem, params ScheduleLevel[] levels) =>
        ScheduleSolver.Solve(problem, levels, Quick).Plan ?? throw new InvalidOperationException("No plan was found.");
}
