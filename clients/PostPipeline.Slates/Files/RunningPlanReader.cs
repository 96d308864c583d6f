using PostPipeline.Slates.Planning;

namespace PostPipeline.Slates.Files;

/// <summary>
/// Holds a plan that was written down against the slate that it is said to be of. Where the slate may have changed, what does
/// not fit any more is left out and noted; otherwise it is a problem.
/// </summary>
internal sealed class RunningPlanReader(Slate slate, SlateProblem problem, string? enquiry, ICollection<string>? leftOut)
{
    private const long MostPrice = 1_000_000_000_000;

    public SlatePlan Plan(JsonPlace result, int mostItems)
    {
        Same(result["slate"]);
        Dictionary<string, (JsonPlace Place, ProjectPlan? Plan)> read = new(StringComparer.Ordinal);
        JsonPlace projects = result["projects"];
        foreach (JsonPlace place in projects.Items(SlateReader.MostProjects))
        {
            JsonPlace name = place["project"];
            string project = name.Text();
            SlateProject? definition = problem.Projects.FirstOrDefault(p => p.Name == project);
            if (name.IsThere && project.Length > 0 && definition is null)
            {
                Unfit(name, $"the slate has no such project; allowed is {string.Join(", ", problem.Projects.Select(p => p.Name))}");
            }
            else if (definition is not null && !read.TryAdd(project, (place, project == enquiry ? null : Project(place, definition, mostItems))))
            {
                name.Problem("the project stands twice; once is expected");
            }
        }

        foreach (SlateProject project in problem.Projects.Where(p => leftOut is null && p.Name != enquiry && !read.ContainsKey(p.Name)))
        {
            projects.Problem($"'{project.Name}' of the slate is missing; a plan of every project is expected");
        }

        RentalPlan[] rentals = [.. result["rentals"].Items(mostItems).Select(Rental).OfType<RentalPlan>()];
        return new([.. problem.Projects.Select(p => read.GetValueOrDefault(p.Name).Plan).OfType<ProjectPlan>()], rentals, []);
    }

    private void Same(JsonPlace written)
    {
        JsonPlace starts = written["starts"];
        if (starts.Date() is { } day && day != slate.Starts)
        {
            starts.Problem($"the slate starts on {slate.Starts:uuuu-MM-dd}: this is the plan of another slate");
            return;
        }

        if (leftOut is not null)
        {
            return;
        }

        JsonPlace weeks = written["weeks"];
        if (weeks.Whole(1, SlateClock.MostSlots) != slate.Weeks)
        {
            weeks.Problem($"the slate has {slate.Weeks} weeks: this is the plan of another slate");
            return;
        }

        JsonPlace level = written["level"];
        if (level.Text() != slate.Level)
        {
            level.Problem($"the slate is planned at {slate.Level}; plan it again, or write this level in it");
            return;
        }

        JsonPlace digest = written["shared_sha256"];
        if (digest.Text() != PlanDigest.OfHouse(problem))
        {
            digest.Problem("the farm, storage, people, links, suites, maintenance or extras of the slate are not those that this plan was made with; plan on from it with `slate plan --running`, or give the slate that the plan was made from");
        }
    }

    private void Unfit(JsonPlace place, string message)
    {
        if (leftOut is null)
        {
            place.Problem(message);
        }
        else if (place.IsThere)
        {
            leftOut.Add($"{place.Path}: {message}");
        }
    }

    private ProjectPlan? Project(JsonPlace place, SlateProject project, int mostItems)
    {
        JsonPlace digest = place["sha256"];
        bool same = digest.Text() == PlanDigest.OfProject(project);
        if (!same && leftOut is null)
        {
            digest.Problem($"the work of {project.Name} is not what this plan was made for: its brief, its dates, its pipelines or its render times have changed since; plan on from it with `slate plan --running`, or give the slate and the data that the plan was made from");
        }

        JsonPlace pipeline = place["pipeline"];
        string taken = pipeline.Text();
        SlateOption? option = project.Options.FirstOrDefault(o => o.Pipeline == taken);
        if (option is null)
        {
            Unfit(pipeline, $"{project.Name} cannot take it; allowed is {string.Join(", ", project.Options.Select(o => o.Pipeline))}");
            return null;
        }

        JsonPlace list = place["stages"];
        Dictionary<string, StagePlan?> stages = new(StringComparer.Ordinal);
        foreach (JsonPlace item in list.Items(mostItems))
        {
            JsonPlace name = item["stage"];
            string written = name.Text();
            if (option.Stages.FirstOrDefault(s => s.Name == written) is not { } stage)
            {
                Unfit(name, $"{taken} of {project.Name} has no such stage; allowed is {string.Join(", ", option.Stages.Select(s => s.Name))}");
            }
            else if (!stages.TryAdd(written, Stage(item, project, option, stage, same)))
            {
                name.Problem("the stage stands twice; once is expected");
            }
        }

        foreach (SlateStage stage in option.Stages.Where(s => leftOut is null && !stages.ContainsKey(s.Name)))
        {
            list.Problem($"'{stage.Name}' of {project.Name} on {taken} is missing; every stage is expected");
        }

        StagePlan[] planned = [.. option.Stages.Select(s => stages.GetValueOrDefault(s.Name)).OfType<StagePlan>()];
        return planned.Length < (leftOut is null ? option.Stages.Count : 1) ? null
            : new(project.Name, taken, planned, Math.Max(0, planned.Max(s => s.End) - project.Due), option.Money);
    }

    // Where the work is what it was, work that starts then ends when the plan says: a time changed by hand is found here.
    private StagePlan? Stage(JsonPlace place, SlateProject project, SlateOption option, SlateStage stage, bool same)
    {
        int start = (int)place["start"].Whole(0, problem.Clock.Slots);
        JsonPlace last = place["end"];
        int end = (int)last.Whole(start, problem.Clock.Slots);
        JsonPlace farmClass = place["farm_class"];
        JsonPlace nodes = place["nodes"];
        string? on = farmClass.IsNull || !farmClass.IsThere ? null : farmClass.Text();
        int count = (int)nodes.Whole(0, 1_000_000);
        FarmChoice? farm = stage.Farm.FirstOrDefault(f => f.Resource == on);
        if (on is not null && farm is null)
        {
            Unfit(farmClass, stage.Farm.Count == 0 ? $"{stage.Name} is no farm work; null is expected" : $"{stage.Name} cannot run on it; allowed is {string.Join(", ", stage.Farm.Select(f => f.Resource))}");
            return null;
        }

        if (on is null && stage.Farm.Count > 0)
        {
            Unfit(farmClass, $"{stage.Name} is farm work; allowed is {string.Join(", ", stage.Farm.Select(f => f.Resource))}");
            return null;
        }

        if (farm is not null && !farm.NodeCounts.Contains(count))
        {
            Unfit(nodes, $"{stage.Name} runs on another number of nodes; allowed is {string.Join(", ", farm.NodeCounts.Order())}");
            return null;
        }

        if (same && SlateMapping.EndOf(problem, stage, on, count, start) is int ends && ends != end)
        {
            last.Problem($"{stage.Name} of {project.Name} on {option.Pipeline} ends at half-day {ends} where it starts at half-day {start}; that is expected");
        }

        return new(stage.Name, start, same ? end : SlateMapping.EndOf(problem, stage, on, count, start) ?? problem.Clock.Slots, on, farm is null ? 0 : count);
    }

    private RentalPlan? Rental(JsonPlace place)
    {
        JsonPlace name = place["resource"];
        string resource = name.Text();
        if (problem.Resources.FirstOrDefault(r => r.Name == resource)?.Rental is not { } terms)
        {
            string[] rented = [.. problem.Resources.Where(r => r.Rental is not null).Select(r => r.Name)];
            Unfit(name, rented.Length == 0 ? "nothing of this slate can be rented" : $"it cannot be rented; allowed is {string.Join(", ", rented)}");
            return null;
        }

        JsonPlace first = place["from"];
        JsonPlace last = place["until"];
        if (first.Date() is not { } from || last.Date() is not { } until)
        {
            return null;
        }

        int start = problem.Clock.FirstSlotOf(from);
        int end = problem.Clock.EndOf(until);
        if (start < 0 || start >= problem.Clock.Slots || start % terms.PeriodSlots != 0)
        {
            first.Problem($"a rent begins with one of the periods of {terms.PeriodSlots / 2} days that are counted from {slate.Starts:uuuu-MM-dd}");
        }
        else if (end != Math.Min(problem.Clock.Slots, start + terms.PeriodSlots))
        {
            last.Problem($"a rent that begins on {from:uuuu-MM-dd} lasts until {problem.Clock.DateOf(Math.Min(problem.Clock.Slots, start + terms.PeriodSlots) - 1):uuuu-MM-dd}");
        }

        return new(resource, start, end, place["units"].Whole(1, terms.Most), place["price"].Whole(0, MostPrice));
    }
}
