namespace PostPipeline.Slates.Planning;

/// <summary>Finds what is wrong with projects.</summary>
internal sealed class ProjectChecking(SlateProblem problem, HashSet<string> calendars, FaultList faults)
{
    private readonly Dictionary<string, SlateResourceKind> resources =
        problem.Resources.GroupBy(r => r.Name, StringComparer.Ordinal).ToDictionary(g => g.Key, g => g.First().Kind, StringComparer.Ordinal);

    public void Check(SlateProject project)
    {
        string field = $"projects[{project.Name}]";
        faults.Range($"{field}.weight", project.Weight, 1, 1_000_000);
        faults.Range($"{field}.release", project.Release, 0, problem.Clock.Slots);
        faults.Range($"{field}.due", project.Due, 0, problem.Clock.Slots);
        if (project.Deadline is int deadline)
        {
            faults.Range($"{field}.deadline", deadline, 1, problem.Clock.Slots);
        }

        if (project.HoldExpires is int expires)
        {
            faults.Require(project.Hold != HoldRank.Firm, $"{field}.hold", "a firm project has no expiry; make it a hold or leave the expiry out");
            faults.Require(project.Hold == HoldRank.Firm || expires > problem.Now, $"{field}.hold", $"the hold expired at half-day {expires}, now is {problem.Now}; renew it, make it firm or take the project off the slate");
        }

        faults.Require(project.Options.Count > 0, $"{field}.options", "there is none; a project needs at least one pipeline");
        faults.Unique($"{field}.options", project.Options.Select(o => o.Pipeline));
        faults.Require(
            project.Options.Count(o => o.Stages.Any(s => s.StartedAt is not null)) <= 1,
            $"{field}.options",
            "stages of two pipelines have started; a project takes one");
        foreach (SlateOption option in project.Options)
        {
            CheckOption($"{field}.options[{option.Pipeline}]", option);
        }
    }

    private void CheckOption(string field, SlateOption option)
    {
        faults.Require(option.Stages.Count > 0, $"{field}.stages", "there is none; at least one is needed");
        faults.Unique($"{field}.stages", option.Stages.Select(s => s.Name));
        faults.Range($"{field}.money", option.Money, 0, 1_000_000_000_000);
        HashSet<string> names = [.. option.Stages.Select(s => s.Name)];
        foreach (SlateStage stage in option.Stages)
        {
            CheckStage($"{field}.stages[{stage.Name}]", stage, names);
        }

        foreach (GenerationLife life in option.Lives)
        {
            string place = $"{field}.lives[{life.Name}]";
            CheckUse(place, new(life.Storage, life.Amount));
            faults.Require(names.Contains(life.FromStage), place, $"'{life.FromStage}' is not a stage of the pipeline");
            faults.Require(names.Contains(life.UntilStage), place, $"'{life.UntilStage}' is not a stage of the pipeline");
            faults.Range($"{place}.lag", life.LagSlots, 0, SlateClock.MostSlots);
        }

        faults.Require(IsOrdered(option, names), $"{field}.stages", "stages wait for each other in a circle");
    }

    private void CheckStage(string field, SlateStage stage, HashSet<string> names)
    {
        foreach (StageWait wait in stage.After)
        {
            faults.Require(names.Contains(wait.Stage), $"{field}.after", $"'{wait.Stage}' is not a stage of the pipeline");
            faults.Range($"{field}.after.lag", wait.LagSlots, -SlateClock.MostSlots, SlateClock.MostSlots);
        }

        faults.Range($"{field}.duration", stage.Duration, 0, SlateClock.MostSlots);
        faults.Range($"{field}.notBefore", stage.NotBefore, 0, SlateClock.MostSlots);
        faults.Require(stage.Calendar is null || calendars.Contains(stage.Calendar), $"{field}.calendar", $"'{stage.Calendar}' is not a calendar of the slate");
        foreach (StageUse use in stage.Uses)
        {
            CheckUse($"{field}.uses", use);
        }

        CheckCalendars(field, stage);
        faults.Unique($"{field}.farm", stage.Farm.Select(f => f.Resource));
        foreach (FarmChoice farm in stage.Farm)
        {
            CheckFarm($"{field}.farm[{farm.Resource}]", farm);
        }

        if (stage.StartedAt is int started)
        {
            faults.Range($"{field}.startedAt", started, 0, problem.Clock.Slots);
            faults.Require(
                stage.Farm.Count == 0 || (stage.Farm.Any(f => f.Resource == stage.StartedOn) && stage.StartedNodes is >= 1),
                $"{field}.startedOn",
                $"'{stage.StartedOn}' with {stage.StartedNodes ?? 0} nodes; a started farm stage names one of its farm classes and 1 node or more");
        }
    }

    // A stage is worked where its own calendar and those of all its resources are open.
    private void CheckCalendars(string field, SlateStage stage)
    {
        HashSet<string> used = [.. stage.Uses.Select(u => u.Resource).Concat(stage.Farm.Select(f => f.Resource))];
        HashSet<string?> names = [stage.Calendar, .. problem.Resources.Where(r => used.Contains(r.Name)).Select(r => r.Calendar)];
        List<SlateCalendar> all = [.. problem.Calendars.Where(c => names.Contains(c.Name) && c.Open.Count >= problem.Clock.Slots)];
        faults.Require(
            all.Count < 2 || Enumerable.Range(0, problem.Clock.Slots).Any(slot => all.TrueForAll(c => c.Open[slot])),
            $"{field}.calendar",
            $"no half-day is worked in all the calendars that it needs: {string.Join(", ", all.Select(c => c.Name))}");
    }

    private void CheckFarm(string field, FarmChoice farm)
    {
        if (resources.TryGetValue(farm.Resource, out SlateResourceKind kind))
        {
            faults.Require(kind == SlateResourceKind.FarmClass, field, "this is not a farm class of the slate");
        }
        else
        {
            faults.Require(false, field, "this is not a resource of the slate");
        }

        faults.Require(farm.NodeHalfDays is > 0 and <= 1e9, $"{field}.nodeHalfDays", $"{farm.NodeHalfDays} is not allowed; allowed is above 0 to 1,000,000,000");
        faults.Require(farm.NodeCounts.Count > 0, $"{field}.nodeCounts", "there is none; at least one number of nodes is needed");
        foreach (int count in farm.NodeCounts)
        {
            faults.Range($"{field}.nodeCounts", count, 1, 1_000_000);
        }

        foreach (StageUse use in farm.PerNode)
        {
            CheckUse($"{field}.perNode", use);
        }
    }

    private void CheckUse(string field, StageUse use)
    {
        faults.Require(resources.ContainsKey(use.Resource), field, $"'{use.Resource}' is not a resource of the slate");
        faults.Range($"{field}[{use.Resource}].amount", use.Amount, 0, 1_000_000_000);
    }

    private static bool IsOrdered(SlateOption option, HashSet<string> names)
    {
        HashSet<string> done = [];
        List<SlateStage> left = [.. option.Stages];
        while (left.Count > 0)
        {
            List<SlateStage> ready = [.. left.Where(s => s.After.All(a => done.Contains(a.Stage) || !names.Contains(a.Stage)))];
            if (ready.Count == 0)
            {
                return false;
            }

            done.UnionWith(ready.Select(s => s.Name));
            left.RemoveAll(ready.Contains);
        }

        return true;
    }
}
