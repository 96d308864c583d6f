namespace PostPipeline.Slates.Planning;

/// <summary>Finds everything that is wrong with a slate before it is planned.</summary>
public static class SlateChecking
{
    /// <summary>The most projects of a slate.</summary>
    public const int MostProjects = 1000;

    /// <summary>The most stages of all options together.</summary>
    public const int MostStages = 50_000;

    /// <summary>Throws where a slate cannot be planned as it is written.</summary>
    /// <param name="problem">The slate.</param>
    /// <exception cref="SlateProblemException">Something is wrong; all of it is named.</exception>
    public static void Check(SlateProblem problem)
    {
        IReadOnlyList<SlateFault> faults = Faults(problem);
        if (faults.Count > 0)
        {
            throw new SlateProblemException(faults);
        }
    }

    /// <summary>Everything that is wrong with a slate.</summary>
    /// <param name="problem">The slate.</param>
    public static IReadOnlyList<SlateFault> Faults(SlateProblem problem)
    {
        FaultList faults = new();
        faults.Range("clock.slots", problem.Clock.Slots, 1, SlateClock.MostSlots);
        faults.Range("now", problem.Now, 0, Math.Max(0, problem.Clock.Slots));
        faults.Range("projects", problem.Projects.Count, 1, MostProjects);
        faults.Range("stages of all options", problem.Projects.Sum(p => p.Options.Sum(o => (long)o.Stages.Count)), 0, MostStages);
        faults.Unique("calendars", problem.Calendars.Select(c => c.Name));
        faults.Unique("resources", problem.Resources.Select(r => r.Name));
        faults.Unique("projects", problem.Projects.Select(p => p.Name));
        foreach (SlateCalendar calendar in problem.Calendars)
        {
            string field = $"calendars[{calendar.Name}].open";
            faults.Require(calendar.Open.Count >= problem.Clock.Slots, field, $"it has {calendar.Open.Count} half-days; the slate has {problem.Clock.Slots}");
            faults.Require(calendar.Open.Contains(true), field, "no half-day is worked; at least one is needed");
        }

        HashSet<string> calendars = [.. problem.Calendars.Select(c => c.Name)];
        foreach (SlateResource resource in problem.Resources)
        {
            CheckResource(problem, resource, calendars, faults);
        }

        ProjectChecking projects = new(problem, calendars, faults);
        foreach (SlateProject project in problem.Projects)
        {
            projects.Check(project);
        }

        return faults.All;
    }

    private static void CheckResource(SlateProblem problem, SlateResource resource, HashSet<string> calendars, FaultList faults)
    {
        string field = $"resources[{resource.Name}]";
        if (resource.Kind == SlateResourceKind.FarmClass && resource.Rental is null)
        {
            faults.Require(resource.Capacity > 0, $"{field}.capacity", $"the farm class has {resource.Capacity} nodes; at least 1 is needed where none can be rented");
        }

        faults.Range($"{field}.capacity", resource.Capacity, 0, 1_000_000_000);
        faults.Require(resource.Calendar is null || calendars.Contains(resource.Calendar), $"{field}.calendar", $"'{resource.Calendar}' is not a calendar of the slate");
        foreach (SlateOutage outage in resource.Outages)
        {
            faults.Require(outage.From < outage.Until, $"{field}.outages", $"'{outage.Reason}' lasts from {outage.From} to {outage.Until}; the end must lie after the start");
            faults.Range($"{field}.outages.amount", outage.Amount, 0, 1_000_000_000);
        }

        if (resource.Rental is SlateRental rental)
        {
            faults.Range($"{field}.rental.price", rental.Price, 0, 1_000_000_000);
            faults.Range($"{field}.rental.most", rental.Most, 1, 1_000_000);
            faults.Range($"{field}.rental.lead", rental.LeadSlots, 0, SlateClock.MostSlots);
            faults.Range($"{field}.rental.period", rental.PeriodSlots, 1, SlateClock.MostSlots);
        }
    }
}
