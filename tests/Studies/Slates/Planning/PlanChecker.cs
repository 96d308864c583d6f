using PostPipeline.Slates.Planning;

namespace PostPipeline.Studies.Tests.Slates.Planning;

/// <summary>Checks a plan against its slate slot by slot, with no code of the planner.</summary>
internal static class PlanChecker
{
    public static List<string> Faults(SlateProblem problem, SlatePlan plan)
    {
        List<string> faults = [];
        Dictionary<string, long[]> used = problem.Resources.ToDictionary(r => r.Name, _ => new long[problem.Clock.Slots]);
        long lateness = 0;
        long money = 0;
        foreach (SlateProject project in problem.Projects)
        {
            ProjectPlan decided = plan.Projects.Single(p => p.Project == project.Name);
            SlateOption option = project.Options.Single(o => o.Pipeline == decided.Pipeline);
            Check(problem, project, option, decided, used, faults);
            int late = Math.Max(0, decided.Stages.Max(s => s.End) - project.Due);
            lateness += project.Hold == HoldRank.Firm ? late * project.Weight : 0;
            money += option.Money;
            if (late != decided.LateSlots)
            {
                faults.Add($"{project.Name} says {decided.LateSlots} late, is {late}");
            }
        }

        foreach (SlateResource resource in problem.Resources)
        {
            for (int slot = 0; slot < problem.Clock.Slots; slot++)
            {
                long away = Math.Min(resource.Capacity, resource.Outages.Where(o => o.From <= slot && slot < o.Until).Sum(o => o.Amount));
                long rented = plan.Rentals.Where(r => r.Resource == resource.Name && r.From <= slot && slot < r.Until).Sum(r => r.Units);
                if (used[resource.Name][slot] > resource.Capacity - away + rented)
                {
                    faults.Add($"{resource.Name} at {slot}: {used[resource.Name][slot]} used, {resource.Capacity} - {away} + {rented} there");
                }
            }
        }

        foreach (RentalPlan rental in plan.Rentals)
        {
            SlateRental terms = problem.Resources.Single(r => r.Name == rental.Resource).Rental!;
            if (rental.Units > terms.Most || rental.From < problem.Now + terms.LeadSlots || rental.From % terms.PeriodSlots != 0 || rental.Price != rental.Units * terms.Price)
            {
                faults.Add($"rental of {rental.Resource} at {rental.From} breaks its terms");
            }
        }

        Equal(PlanLevel.Lateness, lateness);
        Equal(PlanLevel.Extras, plan.Rentals.Sum(r => r.Price));
        Equal(PlanLevel.Money, money);
        faults.AddRange(plan.Levels.Where(l => l.Bound > l.Value).Select(l => $"bound of {l.Level} above its value"));
        return faults;

        void Equal(PlanLevel level, long value)
        {
            if (plan.Value(level) != value)
            {
                faults.Add($"{level} is {value}, the plan says {plan.Value(level)}");
            }
        }
    }

    private static void Check(SlateProblem problem, SlateProject project, SlateOption option, ProjectPlan decided, Dictionary<string, long[]> used, List<string> faults)
    {
        foreach (SlateStage stage in option.Stages)
        {
            StagePlan done = decided.Stages.Single(s => s.Stage == stage.Name);
            List<StageUse> uses = [.. stage.Uses];
            int duration = stage.Duration;
            if (stage.Farm.Count > 0)
            {
                FarmChoice farm = stage.Farm.Single(f => f.Resource == done.FarmClass);
                duration = (int)Math.Ceiling(farm.NodeHalfDays / done.Nodes - 1e-9);
                uses.Add(new(farm.Resource, done.Nodes));
                uses.AddRange(farm.PerNode.Select(u => u with { Amount = u.Amount * done.Nodes }));
                Require(stage.StartedAt is not null || farm.NodeCounts.Contains(done.Nodes), "runs on a number of nodes that is not allowed");
            }

            HashSet<string?> calendars = [stage.Calendar, .. stage.Uses.Select(u => u.Resource).Concat(stage.Farm.SelectMany(f => f.PerNode.Select(p => p.Resource).Append(f.Resource)))
                .Select(r => problem.Resources.Single(x => x.Name == r).Calendar)];
            int worked = Enumerable.Range(done.Start, done.End - done.Start)
                .Count(slot => calendars.All(c => c is null || problem.Calendars.Single(x => x.Name == c).Open[slot]));
            Require(worked == duration, $"works {worked} of {duration} half-days");
            Require(done.Start >= 0 && done.End <= problem.Clock.Slots, "lies outside the horizon");
            if (stage.StartedAt is int started)
            {
                Require(done.Start == started, "has been moved though it has started");
            }
            else
            {
                Require(done.Start >= Math.Max(problem.Now, Math.Max(project.Release, stage.NotBefore)), "starts too early");
                Require(stage.After.All(a => done.Start >= decided.Stages.Single(s => s.Stage == a.Stage).End + a.LagSlots), "does not wait");
            }

            Require(project.Deadline is null || done.End <= project.Deadline, "ends after the deadline");
            foreach (StageUse use in uses)
            {
                Take(use.Resource, use.Amount, done.Start, done.End);
            }

            void Require(bool holds, string fault)
            {
                if (!holds)
                {
                    faults.Add($"{project.Name} {stage.Name} {fault}");
                }
            }
        }

        foreach (GenerationLife life in option.Lives)
        {
            Take(life.Storage, life.Amount, decided.Stages.Single(s => s.Stage == life.FromStage).Start, decided.Stages.Single(s => s.Stage == life.UntilStage).End + life.LagSlots);
        }

        void Take(string resource, long amount, int from, int until)
        {
            for (int slot = from; slot < Math.Min(until, problem.Clock.Slots); slot++)
            {
                used[resource][slot] += amount;
            }
        }
    }
}
