using PostPipeline.Slates.Scheduling;

namespace PostPipeline.Slates.Solving;

/// <summary>Finds what is wrong with a problem before a solver sees it.</summary>
public static class ScheduleValidation
{
    /// <summary>The largest horizon, in slots.</summary>
    public const int MostSlots = 100_000;

    /// <summary>Throws where the problem refers to what is not there or holds a number out of range.</summary>
    /// <param name="problem">The problem.</param>
    /// <exception cref="ArgumentException">Something is wrong; the message names it, the value and what is allowed.</exception>
    public static void Check(ScheduleProblem problem)
    {
        Require(problem.Horizon is >= 1 and <= MostSlots, $"The horizon is {problem.Horizon} slots; allowed is 1 to {MostSlots}.");
        foreach (ScheduleResource resource in problem.Resources)
        {
            Require(
                resource is { Capacity: >= 0, MostExtra: >= 0, ExtraPrice: >= 0 },
                $"Resource {resource.Name} has capacity {resource.Capacity}, extra {resource.MostExtra}, price {resource.ExtraPrice}; allowed is 0 or more.");
            Require(
                resource is { ExtraFrom: >= 0, ExtraPeriod: >= 0 },
                $"Resource {resource.Name} has extra from {resource.ExtraFrom}, by periods of {resource.ExtraPeriod}; allowed is 0 or more.");
        }

        foreach (ScheduleTask task in problem.Tasks)
        {
            CheckTask(problem, task);
        }

        foreach (Precedence precedence in problem.Precedences)
        {
            Require(IsTask(precedence.Before) && IsTask(precedence.After), $"A precedence names tasks {precedence.Before} and {precedence.After}; there are {problem.Tasks.Count}.");
        }

        foreach (ResourceHold hold in problem.Holds)
        {
            CheckUse(problem, hold.Name, hold.Use);
            Require(IsTask(hold.FromTask) && IsTask(hold.UntilTask) && hold.Lag >= 0, $"Hold {hold.Name} names tasks {hold.FromTask} and {hold.UntilTask} with lag {hold.Lag}; there are {problem.Tasks.Count} tasks, and the lag must be 0 or more.");
        }

        foreach (FixedUse closed in problem.FixedUses)
        {
            CheckUse(problem, "A fixed use", closed.Use);
            Require(closed.From >= 0 && closed.Until <= problem.Horizon, $"A fixed use lasts from {closed.From} to {closed.Until}; the horizon is 0 to {problem.Horizon}.");
        }

        foreach (ScheduleChoice choice in problem.Choices)
        {
            Require(choice.Options.Count > 0, $"Choice {choice.Name} has no options; at least one is needed.");
            Require(choice.Options.All(o => o >= 0 && o < problem.Options.Count), $"Choice {choice.Name} names an option that is not there.");
        }

        bool IsTask(int place) => place >= 0 && place < problem.Tasks.Count;
    }

    private static void CheckTask(ScheduleProblem problem, ScheduleTask task)
    {
        Require(task.Modes.Count > 0, $"Task {task.Name} has no modes; at least one is needed.");
        foreach (TaskMode mode in task.Modes)
        {
            Require(mode is { Duration: >= 0, Cost: >= 0 }, $"Task {task.Name} has duration {mode.Duration} and cost {mode.Cost}; allowed is 0 or more.");
            foreach (ResourceUse use in mode.Uses)
            {
                CheckUse(problem, task.Name, use);
            }
        }

        Require(task.LatenessWeight >= 0, $"Task {task.Name} has lateness weight {task.LatenessWeight}; allowed is 0 or more.");
        Require(task.LatenessRank is >= 0 and <= 2, $"Task {task.Name} has lateness rank {task.LatenessRank}; allowed is 0 to 2.");
        Require(task.Release >= 0, $"Task {task.Name} has release {task.Release}; allowed is 0 or more.");
        Require(task.FixedStart is null or >= 0, $"Task {task.Name} has fixed start {task.FixedStart}; allowed is 0 or more.");
        Require(task.Option is null || (task.Option >= 0 && task.Option < problem.Options.Count), $"Task {task.Name} names option {task.Option}; there are {problem.Options.Count}.");
        Require(task.Calendar is null || (task.Calendar >= 0 && task.Calendar < problem.Calendars.Count), $"Task {task.Name} names calendar {task.Calendar}; there are {problem.Calendars.Count}.");
        if (task.Calendar is int place)
        {
            Require(problem.Calendars[place].Slots >= problem.Horizon, $"The calendar of task {task.Name} has {problem.Calendars[place].Slots} slots; the horizon has {problem.Horizon}.");
            Require(problem.Calendars[place].OpenSlots > 0, $"The calendar of task {task.Name} has no open slot; at least one is needed.");
        }
    }

    private static void CheckUse(ScheduleProblem problem, string name, ResourceUse use) =>
        Require(
            use.Resource >= 0 && use.Resource < problem.Resources.Count && use.Amount >= 0,
            $"{name} uses {use.Amount} of resource {use.Resource}; there are {problem.Resources.Count} resources, and the amount must be 0 or more.");

    private static void Require(bool holds, string message)
    {
        if (!holds)
        {
            throw new ArgumentException(message);
        }
    }
}
