using NodaTime;
using PostPipeline.Slates.Files;
using PostPipeline.Slates.Options;
using PostPipeline.Slates.Planning;
using PostPipeline.Studies.Reforecasts;

namespace PostPipeline.Slates.Usage;

/// <summary>
/// Who used what in a week: node-hours, TB-days and person-hours by project, each number with its source. A day that a
/// project's daily log speaks of is measured; a day that it is silent about is what the plan had for it.
/// </summary>
/// <param name="From">The first day.</param>
/// <param name="Until">The last day.</param>
/// <param name="Rows">What each project used; amounts of 0 are left out.</param>
/// <param name="Supply">What there was.</param>
public sealed record WeekUsage(LocalDate From, LocalDate Until, IReadOnlyList<ProjectUsage> Rows, IReadOnlyList<WeekSupply> Supply)
{
    /// <summary>The generation that a daily log counts the bytes of.</summary>
    private const string Originals = "originals";

    /// <summary>Counts a week.</summary>
    /// <param name="problem">The slate.</param>
    /// <param name="plan">The plan that it followed.</param>
    /// <param name="hoursOf">Hours of work in an open half-day of the farm ("farm") or of a skill.</param>
    /// <param name="day">A day of the week, which runs from Monday to Sunday; what lies outside the slate's clock is left out.</param>
    /// <param name="logs">Daily logs by project. A log begins with the first day of the shoot.</param>
    /// <param name="people">The people, for what they are booked for.</param>
    public static WeekUsage Of(
        SlateProblem problem,
        SlatePlan plan,
        Func<string, double> hoursOf,
        LocalDate day,
        IReadOnlyDictionary<string, IReadOnlyList<LogDay>> logs,
        IReadOnlyList<Person> people)
    {
        LocalDate monday = day.PlusDays(1 - (int)day.DayOfWeek);
        LocalDate[] days = [.. Enumerable.Range(0, 7).Select(monday.PlusDays).Where(d => problem.Clock.FirstSlotOf(d) >= 0 && problem.Clock.EndOf(d) <= problem.Clock.Slots)];
        if (days.Length == 0)
        {
            throw new ArgumentOutOfRangeException(nameof(day), day, $"The week lies outside the slate, {problem.Clock.Start:uuuu-MM-dd} to {problem.Clock.DateOf(problem.Clock.Slots - 1):uuuu-MM-dd}.");
        }

        Count count = new(problem, plan, hoursOf, days);
        List<ProjectUsage> rows = [];
        foreach (ProjectPlan project in plan.Projects)
        {
            IReadOnlyList<LogDay> log = logs.GetValueOrDefault(project.Project, []);
            rows.AddRange(count.NodeHours(project, log));
            rows.AddRange(count.TbDays(project, log));
            rows.AddRange(count.PersonHours(project));
            rows.AddRange(people.Select(p => Booked(project.Project, p, days)));
        }

        return new(days[0], days[^1], [.. rows.Where(r => r.Amount > 0 || r.Basis == UsageBasis.Measured)], [.. count.Supply(people)]);
    }

    private static ProjectUsage Booked(string project, Person person, LocalDate[] days)
    {
        LocalDate[] booked = [.. days.Where(d => !person.DaysOff.Contains(d.DayOfWeek) && person.Booked.Any(b => b.Covers(d) && string.Equals(b.For, project, StringComparison.OrdinalIgnoreCase)))];
        return new(project, UsageKind.PersonHours, person.Name, UsageBasis.Booked, booked.Length * person.Hours, booked.Length);
    }

    private sealed class Count(SlateProblem problem, SlatePlan plan, Func<string, double> hoursOf, LocalDate[] days)
    {
        private readonly PlanUse use = new(problem, plan);

        public IEnumerable<ProjectUsage> NodeHours(ProjectPlan project, IReadOnlyList<LogDay> log)
        {
            ILookup<LocalDate, double> logged = log.Where(d => !double.IsNaN(d.FarmSeconds)).ToLookup(d => d.Date, d => d.FarmSeconds);
            LocalDate[] measured = [.. days.Where(logged.Contains)];
            if (measured.Length > 0)
            {
                yield return new(project.Project, UsageKind.NodeHours, "farm", UsageBasis.Measured, measured.Sum(d => logged[d].Sum()) / 3600, measured.Length);
            }

            LocalDate[] silent = [.. days.Except(measured)];
            foreach (SlateResource nodes in Of(SlateResourceKind.FarmClass))
            {
                yield return new(project.Project, UsageKind.NodeHours, nodes.Name, UsageBasis.Planned, Sum(use.Worked(project, nodes), silent) * hoursOf("farm"), silent.Length);
            }
        }

        public IEnumerable<ProjectUsage> TbDays(ProjectPlan project, IReadOnlyList<LogDay> log)
        {
            IReadOnlyList<GenerationLife> lives = use.OptionOf(project).Lives;
            LocalDate[] known = log.Count > 0 && lives.FirstOrDefault(l => l.Name == Originals) is { } any ? [.. days.Where(d => IsKnown(d, project, any, log))] : [];
            LocalDate[] silent = [.. days.Except(known)];
            foreach (SlateResource tier in Of(SlateResourceKind.Storage))
            {
                if (known.Length > 0 && lives.FirstOrDefault(l => l.Storage == tier.Name && l.Name == Originals) is { } originals)
                {
                    yield return new(project.Project, UsageKind.TbDays, tier.Name, UsageBasis.Measured, known.Sum(d => Recorded(log, d) / 1e12 * Share(project, originals, d)), known.Length);
                }

                double planned = Sum(use.Kept(project, tier, l => l.Name == Originals), silent) + Sum(use.Kept(project, tier, l => l.Name != Originals), days);
                yield return new(project.Project, UsageKind.TbDays, tier.Name, UsageBasis.Planned, TbDaysOf(planned), days.Length);
            }
        }

        // Groups of skills that somebody shares hold the same people once more.
        public IEnumerable<ProjectUsage> PersonHours(ProjectPlan project) => Of(SlateResourceKind.People)
            .Where(r => Person.AllSkills.Contains(r.Name))
            .Select(r => new ProjectUsage(project.Project, UsageKind.PersonHours, r.Name, UsageBasis.Planned, Sum(use.Worked(project, r), days) * hoursOf(r.Name), days.Length));

        public IEnumerable<WeekSupply> Supply(IReadOnlyList<Person> people) =>
        [
            .. Of(SlateResourceKind.FarmClass).Select(r => new WeekSupply(UsageKind.NodeHours, r.Name, Sum(use.Capacity(r), days) * hoursOf("farm"))),
            .. Of(SlateResourceKind.Storage).Select(r => new WeekSupply(UsageKind.TbDays, r.Name, TbDaysOf(Sum(use.Capacity(r), days)))),
            new(UsageKind.PersonHours, "people", people.Sum(p => days.Count(p.Works) * p.Hours)),
        ];

        private IEnumerable<SlateResource> Of(SlateResourceKind kind) => problem.Resources.Where(r => r.Kind == kind);

        private double Sum(double[] slots, IEnumerable<LocalDate> counted) => counted.Sum(d => slots[problem.Clock.FirstSlotOf(d)] + slots[problem.Clock.FirstSlotOf(d) + 1]);

        private static double TbDaysOf(double unitHalfDays) => unitHalfDays * SlateCapacities.StorageUnit / 1e12 / 2;

        // After the log's last day what was recorded is known only if the shoot is over by then.
        private bool IsKnown(LocalDate day, ProjectPlan project, GenerationLife originals, IReadOnlyList<LogDay> log)
        {
            LocalDate last = log.Max(d => d.Date);
            return day <= last || project.Stages.First(s => s.Stage == originals.FromStage).End <= problem.Clock.EndOf(last);
        }

        private static double Recorded(IReadOnlyList<LogDay> log, LocalDate day) => log.Where(d => d.Date <= day).Sum(d => d.Bytes);

        // How much of a day the plan still keeps it; where the shoot began on another day than planned, the log rules.
        private double Share(ProjectPlan project, GenerationLife life, LocalDate day)
        {
            int until = use.Span(project, life).Until;
            return Math.Clamp(until - problem.Clock.FirstSlotOf(day), 0, 2) / 2.0;
        }
    }
}
