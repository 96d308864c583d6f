using PostPipeline.Slates.Scheduling;

namespace PostPipeline.Slates.Planning;

/// <summary>
/// A slate as tasks, modes and choices of the scheduling layer. Each option ends in a task without length that waits for
/// all its stages: the project's due date and deadline are looked at there.
/// </summary>
internal sealed class SlateMapping
{
    /// <summary>Changes that a changed pipeline counts as: ten days of moved starts.</summary>
    public const int PipelineChange = 20;

    private readonly SlateProblem problem;
    private readonly Dictionary<string, int> resources;
    private readonly IReadOnlyDictionary<string, string>? forced;
    private readonly Dictionary<string, int> calendarPlaces = [];
    private readonly List<SlotCalendar> calendars = [];
    private readonly List<ScheduleTask> tasks = [];
    private readonly List<Precedence> precedences = [];
    private readonly List<ResourceHold> holds = [];
    private readonly List<ScheduleOption> options = [];
    private readonly List<ScheduleChoice> choices = [];
    private readonly List<StagePlace> places = [];
    private readonly List<(int Project, int Option)> optionPlaces = [];

    public SlateMapping(SlateProblem problem, SlatePlan? running, IReadOnlyDictionary<string, string>? forced = null)
    {
        this.forced = forced;
        this.problem = problem;
        resources = problem.Resources.Select((r, i) => (r.Name, i)).ToDictionary(p => p.Name, p => p.i, StringComparer.Ordinal);
        for (int project = 0; project < problem.Projects.Count; project++)
        {
            AddProject(project, running?.Projects.FirstOrDefault(p => p.Project == problem.Projects[project].Name));
        }

        Schedule = new()
        {
            Horizon = problem.Clock.Slots,
            Resources = [.. problem.Resources.Select(ToResource)],
            Tasks = tasks,
            Precedences = precedences,
            Holds = holds,
            Options = options,
            Choices = choices,
            Calendars = calendars,
            FixedUses = [.. problem.Resources.SelectMany((r, place) => MappedOutages.Of(r, place, problem.Clock.Slots, tasks.Where(t => !options[t.Option!.Value].Forbidden), calendars))],
        };
    }

    /// <summary>Where a task of the scheduling layer comes from; a stage of −1 is the end of the option.</summary>
    public readonly record struct StagePlace(int Project, int Option, int Stage, IReadOnlyList<(string? FarmClass, int Nodes)> Modes);

    public ScheduleProblem Schedule { get; }

    /// <summary>The levels that arise in this slate, in order.</summary>
    public IReadOnlyList<PlanLevel> Levels(bool running) =>
    [
        .. new[] { (HoldRank.Firm, PlanLevel.Lateness), (HoldRank.FirstHold, PlanLevel.FirstHoldLateness), (HoldRank.SecondHold, PlanLevel.SecondHoldLateness) }
            .Where(l => l.Item1 == HoldRank.Firm || problem.Projects.Any(p => p.Hold == l.Item1)).Select(l => l.Item2),
        PlanLevel.Extras,
        PlanLevel.Money,
        .. running ? [PlanLevel.Changes] : Array.Empty<PlanLevel>(),
    ];

    public static ScheduleLevel ToSchedule(PlanLevel level) => level switch
    {
        PlanLevel.Lateness => ScheduleLevel.WeightedLateness,
        PlanLevel.FirstHoldLateness => ScheduleLevel.SecondLateness,
        PlanLevel.SecondHoldLateness => ScheduleLevel.ThirdLateness,
        PlanLevel.Extras => ScheduleLevel.Extras,
        PlanLevel.Money => ScheduleLevel.Money,
        PlanLevel.Changes => ScheduleLevel.Changes,
        _ => throw new ArgumentOutOfRangeException(nameof(level), level, "This is not a level."),
    };

    /// <summary>Place of an option in the scheduling layer.</summary>
    public int OptionPlace(int project, int option) => choices[project].Options[option];

    /// <summary>The half-day after the last one of a stage that starts at a half-day; null where the slate ends before it does.</summary>
    public static int? EndOf(SlateProblem problem, SlateStage stage, string? farmClass, int nodes, int start)
    {
        int duration = stage.Farm.FirstOrDefault(f => f.Resource == farmClass)?.Duration(nodes) ?? stage.Duration;
        return CalendarOf(problem, stage) is { } open ? new SlotCalendar(open).End(start, duration) : start + duration;
    }

    /// <summary>Project and option of a place in the scheduling layer.</summary>
    public (int Project, int Option) OptionAt(int place) => optionPlaces[place];

    public SlatePlan Read(SchedulePlan plan, IReadOnlyList<PlanLevelResult> levels)
    {
        ILookup<int, TaskPlan> byProject = plan.Tasks.ToLookup(t => places[t.Task].Project);
        List<ProjectPlan> projects = [];
        for (int project = 0; project < problem.Projects.Count; project++)
        {
            SlateProject definition = problem.Projects[project];
            List<TaskPlan> done = [.. byProject[project].OrderBy(t => t.Task)];
            SlateOption option = definition.Options[places[done[0].Task].Option];
            List<StagePlan> stages = [.. done.Where(t => places[t.Task].Stage >= 0).Select(t =>
            {
                StagePlace place = places[t.Task];
                (string? farmClass, int nodes) = place.Modes[t.Mode];
                return new StagePlan(option.Stages[place.Stage].Name, t.Start, t.End, farmClass, nodes);
            })];
            projects.Add(new(definition.Name, option.Pipeline, stages, Math.Max(0, stages.Max(s => s.End) - definition.Due), option.Money));
        }

        List<RentalPlan> rentals = [.. plan.Extras.Where(e => e.Units > 0)
            .Select(e => new RentalPlan(problem.Resources[e.Resource].Name, e.From, e.Until, e.Units, e.Units * problem.Resources[e.Resource].Rental!.Price))];
        return new(projects, rentals, levels);
    }

    /// <summary>What of a plan still fits this slate, in the scheduling layer.</summary>
    public SchedulePlan Write(SlatePlan plan)
    {
        List<int> taken = [];
        List<TaskPlan> done = [];
        for (int task = 0; task < tasks.Count; task++)
        {
            StagePlace place = places[task];
            SlateProject project = problem.Projects[place.Project];
            SlateOption option = project.Options[place.Option];
            ProjectPlan? decided = plan.Projects.FirstOrDefault(p => p.Project == project.Name);
            if (decided is null || decided.Pipeline != option.Pipeline)
            {
                continue;
            }

            if (place.Stage < 0)
            {
                taken.Add(tasks[task].Option!.Value);
                done.Add(new(task, decided.End, decided.End, 0));
                continue;
            }

            StagePlan? stage = decided.Stages.FirstOrDefault(s => s.Stage == option.Stages[place.Stage].Name);
            int mode = stage is null ? -1 : place.Modes.ToList().IndexOf((stage.FarmClass, stage.Nodes));
            if (mode < 0)
            {
                continue;
            }

            done.Add(new(task, stage!.Start, stage.End, mode));
        }

        return new(done, taken, [], []);
    }

    private void AddProject(int project, ProjectPlan? running)
    {
        SlateProject definition = problem.Projects[project];
        int started = definition.Options.ToList().FindIndex(o => o.Stages.Any(s => s.StartedAt is not null));
        int first = options.Count;
        for (int option = 0; option < definition.Options.Count; option++)
        {
            SlateOption way = definition.Options[option];
            int change = running is not null && running.Pipeline != way.Pipeline ? PipelineChange : 0;
            options.Add(new($"{definition.Name} {way.Pipeline}", way.Money, change, Forbidden: started >= 0 ? started != option : forced?.GetValueOrDefault(definition.Name, way.Pipeline) is string only && only != way.Pipeline));
            optionPlaces.Add((project, option));
            AddOption(project, option, running?.Pipeline == way.Pipeline ? running : null);
        }

        choices.Add(new(definition.Name, [.. Enumerable.Range(first, definition.Options.Count)]));
    }

    private void AddOption(int project, int option, ProjectPlan? running)
    {
        SlateProject definition = problem.Projects[project];
        SlateOption way = definition.Options[option];
        Dictionary<string, int> taskOf = [];
        for (int stage = 0; stage < way.Stages.Count; stage++)
        {
            taskOf[way.Stages[stage].Name] = tasks.Count;
            AddStage(project, option, stage, running?.Stages.FirstOrDefault(s => s.Stage == way.Stages[stage].Name));
        }

        int end = tasks.Count;
        tasks.Add(new($"{definition.Name} {way.Pipeline} end", [new(0, [])])
        {
            Option = options.Count - 1,
            Due = definition.Due,
            Deadline = definition.Deadline,
            LatenessWeight = definition.Weight,
            LatenessRank = (int)definition.Hold,
        });
        places.Add(new(project, option, -1, [(null, 0)]));
        foreach (SlateStage stage in way.Stages)
        {
            precedences.AddRange(stage.After.Select(a => new Precedence(taskOf[a.Stage], taskOf[stage.Name], a.LagSlots)));
            precedences.Add(new(taskOf[stage.Name], end));
        }

        holds.AddRange(way.Lives.Where(l => l.Amount > 0).Select(l =>
            new ResourceHold($"{definition.Name} {l.Name}", new(resources[l.Storage], l.Amount), taskOf[l.FromStage], taskOf[l.UntilStage], l.LagSlots)));
    }

    private void AddStage(int project, int option, int stage, StagePlan? running)
    {
        SlateProject definition = problem.Projects[project];
        SlateOption way = definition.Options[option];
        SlateStage work = way.Stages[stage];
        List<TaskMode> modes = [];
        List<(string? FarmClass, int Nodes)> names = [];
        List<ResourceUse> uses = [.. work.Uses.Select(u => new ResourceUse(resources[u.Resource], u.Amount))];
        if (work.Farm.Count == 0)
        {
            modes.Add(new(work.Duration, uses));
            names.Add((null, 0));
        }

        foreach (FarmChoice farm in work.Farm)
        {
            IEnumerable<int> counts = work.StartedAt is null ? farm.NodeCounts.Distinct().Order() : farm.Resource == work.StartedOn ? [work.StartedNodes!.Value] : [];
            foreach (int nodes in counts)
            {
                modes.Add(new(farm.Duration(nodes), Summed([.. uses, new(resources[farm.Resource], nodes), .. farm.PerNode.Select(u => new ResourceUse(resources[u.Resource], checked(u.Amount * nodes)))])));
                names.Add((farm.Resource, nodes));
            }
        }

        tasks.Add(new($"{definition.Name} {way.Pipeline} {work.Name}", modes)
        {
            Option = options.Count - 1,
            Release = Math.Max(work.NotBefore, Math.Max(definition.Release, work.StartedAt is null ? problem.Now : 0)),
            FixedStart = work.StartedAt,
            Calendar = Calendar(work),
            PlannedStart = running?.Start,
        });
        places.Add(new(project, option, stage, names));
    }

    private static List<ResourceUse> Summed(IEnumerable<ResourceUse> uses) =>
        [.. uses.GroupBy(u => u.Resource).Select(g => new ResourceUse(g.Key, g.Sum(u => u.Amount)))];

    private int? Calendar(SlateStage stage)
    {
        if (CalendarNames(problem, stage) is not { Count: > 0 } names)
        {
            return null;
        }

        string key = string.Join('\n', names);
        if (!calendarPlaces.TryGetValue(key, out int place))
        {
            place = calendars.Count;
            calendars.Add(new(Opened(problem, names)));
            calendarPlaces[key] = place;
        }

        return place;
    }

    private static bool[]? CalendarOf(SlateProblem problem, SlateStage stage) => CalendarNames(problem, stage) is { Count: > 0 } names ? Opened(problem, names) : null;

    private static SortedSet<string> CalendarNames(SlateProblem problem, SlateStage stage)
    {
        IEnumerable<string> used = stage.Uses.Select(u => u.Resource).Concat(stage.Farm.SelectMany(f => f.PerNode.Select(u => u.Resource).Append(f.Resource)));
        return new(used.Select(u => problem.Resources.First(r => r.Name == u).Calendar).Append(stage.Calendar).OfType<string>(), StringComparer.Ordinal);
    }

    // Open where the stage's own calendar and those of everything it uses are open.
    private static bool[] Opened(SlateProblem problem, SortedSet<string> names)
    {
        List<SlateCalendar> all = [.. names.Select(n => problem.Calendars.First(c => c.Name == n))];
        return [.. Enumerable.Range(0, problem.Clock.Slots).Select(slot => all.TrueForAll(c => c.Open[slot]))];
    }

    private ScheduleResource ToResource(SlateResource resource) =>
        resource.Rental is SlateRental rental
            ? new(resource.Name, resource.Capacity, rental.Most, rental.Price) { ExtraFrom = problem.Now + rental.LeadSlots, ExtraPeriod = rental.PeriodSlots }
            : new(resource.Name, resource.Capacity);
}
