using PostPipeline.Quantities;
using PostPipeline.Slates.Files;
using PostPipeline.Slates.Planning;
using PostPipeline.Studies.Briefs;

namespace PostPipeline.Slates.Options;

/// <summary>
/// An evaluated slate as a planning problem: every duration at the level asked for, every pipeline that may be taken as an
/// option. The same mapping turns one draw into the durations that the simulation runs.
/// </summary>
public sealed class SlateProblemBuilder
{
    private const double HalfDay = 43_200;
    private readonly SlateEvaluation evaluation;
    private readonly SlateTime time;
    private readonly SlateCapacities capacities;

    /// <summary>Prepares the mapping.</summary>
    /// <param name="evaluation">The slate.</param>
    public SlateProblemBuilder(SlateEvaluation evaluation)
    {
        this.evaluation = evaluation;
        time = new(evaluation.Slate);
        capacities = new(evaluation.Slate, time);
    }

    /// <summary>The clock.</summary>
    public SlateTime Time => time;

    /// <summary>What is shared.</summary>
    public SlateCapacities Capacities => capacities;

    /// <summary>The probability behind a level's word.</summary>
    /// <param name="level">P50, P80 or P90.</param>
    public static double Probability(string level) => level switch { "P50" => 0.5, "P80" => 0.8, _ => 0.9 };

    /// <summary>The quantile of some draws, type 7.</summary>
    /// <param name="probability">0 to 1.</param>
    public static Func<double[], double> At(double probability) => draws =>
    {
        double[] sorted = [.. draws];
        Array.Sort(sorted);
        return Quantiles.OfSorted(sorted, probability);
    };

    /// <summary>The problem at a level.</summary>
    /// <param name="level">P50, P80 or P90; null for the slate's own.</param>
    public SlateProblem Build(string? level = null)
    {
        Func<double[], double> pick = At(Probability(level ?? evaluation.Slate.Level));
        List<SlateCalendar> calendars = [.. capacities.Calendars];
        List<SlateProject> projects = [];
        foreach (EvaluatedProject project in evaluation.Projects)
        {
            SlateEntry entry = project.Entry;
            SlateOption[] options = [.. project.Options.Select(o => Option(project, o, pick))];

            // The shoot's dates are given: its calendar is open on its own half-days only, so that it cannot move.
            SlateStage shoot = options[0].Stages[0];
            calendars.Add(new(ShootCalendar(entry), [.. Enumerable.Range(0, time.Clock.Slots).Select(s => s >= shoot.NotBefore && s < shoot.NotBefore + shoot.Duration)]));
            projects.Add(new(entry.Name, Math.Clamp(time.Clock.EndOf(entry.Due), 0, time.Clock.Slots), options)
            {
                Weight = entry.Priority,
                Release = 0,
                Hold = entry.Standing switch { "firm" => HoldRank.Firm, "first-hold" => HoldRank.FirstHold, _ => HoldRank.SecondHold },
                HoldExpires = entry.Expires is { } expires ? Math.Clamp(time.Clock.EndOf(expires), 1, time.Clock.Slots) : null,
            });
        }

        return new() { Clock = time.Clock, Resources = capacities.Resources, Projects = projects, Calendars = calendars };
    }

    /// <summary>A pipeline with durations picked from its draws.</summary>
    /// <param name="project">The project.</param>
    /// <param name="option">The pipeline.</param>
    /// <param name="pick">A quantile, or one draw.</param>
    public SlateOption Option(EvaluatedProject project, EvaluatedOption option, Func<double[], double> pick)
    {
        List<SlateStage> stages = [];
        for (int i = 0; i < option.Stages.Count; i++)
        {
            StageDraws stage = option.Stages[i];
            stages.Add(stage.Kind switch
            {
                StageKind.Shoot => Shoot(project.Entry, stage, pick),
                StageKind.Edits => new(stage.Name) { After = Waits(option, stage), Duration = Days(pick(stage.Lasts)) },
                StageKind.Lasts => new(stage.Name) { After = Waits(option, stage), Duration = Days(pick(stage.Lasts)) },
                _ => Work(project, option, stage, pick),
            });
            if (stage.Kind == StageKind.Edits)
            {
                stages.Add(new(Locked) { After = [new(stage.Name)], NotBefore = time.EndSlot(pick(stage.Lock)) });
            }
        }

        return new(option.Pipeline, stages) { Lives = [.. Lives(option, pick)], Money = (long)Math.Round(option.Outcome.Cost.P50) };
    }

    private const string Locked = "picture locked";

    private static string ShootCalendar(SlateEntry entry) => $"shoot of {entry.Name}";

    private static int Days(double seconds) => (int)Math.Ceiling(Math.Clamp(seconds, 0, 1e9) / HalfDay);

    private SlateStage Shoot(SlateEntry entry, StageDraws stage, Func<double[], double> pick)
    {
        int start = Math.Min(time.Slot(At(0.5)(stage.First)), time.Clock.Slots - 1);
        int end = Math.Clamp(time.EndSlot(pick(stage.Last)), start + 1, time.Clock.Slots);
        return new(stage.Name) { NotBefore = start, Duration = end - start, Calendar = ShootCalendar(entry) };
    }

    private SlateStage Work(EvaluatedProject project, EvaluatedOption option, StageDraws stage, Func<double[], double> pick)
    {
        SlateStage work = stage.Resource switch
        {
            "farm" => Farm(stage, pick),
            "link" => Link(stage, pick),
            _ => People(project, stage, pick),
        };
        int shortest = work.Farm.Count > 0 ? work.Farm.Min(f => f.NodeCounts.Min(f.Duration)) : work.Duration;
        bool streams = stage.Kind == StageKind.Streams;
        return work with
        {
            NotBefore = streams ? time.Slot(At(0.5)(stage.First)) : 0,
            After = [.. Waits(option, stage).Select(w => streams ? w with { LagSlots = 1 - Math.Max(1, shortest) } : w with { LagSlots = Days(pick(stage.Lasts)) })],
        };
    }

    private static IReadOnlyList<StageWait> Waits(EvaluatedOption option, StageDraws stage) =>
        [.. stage.After.Select(a => new StageWait(option.Stages[a].Kind == StageKind.Edits ? Locked : option.Stages[a].Name))];

    private SlateStage Farm(StageDraws stage, Func<double[], double> pick)
    {
        double nodeHours = pick(stage.Work);
        if (nodeHours <= 0)
        {
            return new(stage.Name);
        }

        IReadOnlyList<StageUse> licences = evaluation.Slate.Farm.Licences > 0 ? [new("licences", 1)] : [];
        List<FarmChoice> choices = [];
        for (int c = 0; c < evaluation.Slate.Farm.Nodes.Count; c++)
        {
            NodeClass node = evaluation.Slate.Farm.Nodes[c];
            if (node.Count > 0)
            {
                int most = node.Count + (evaluation.Slate.Extras.FirstOrDefault(e => e.Adds == node.Name)?.Most ?? 0);
                int[] counts = [.. new[] { (node.Count + 3) / 4, (node.Count + 1) / 2, node.Count, most }.Distinct()];
                choices.Add(new(node.Name, nodeHours / stage.ClassSpeeds[c] / capacities.HoursOf("farm"), counts) { PerNode = licences });
            }
        }

        return new(stage.Name) { Farm = choices };
    }

    private SlateStage Link(StageDraws stage, Func<double[], double> pick)
    {
        string carries = stage.Kind == StageKind.Streams ? "remote" : "pulls";
        if (evaluation.Slate.Links.FirstOrDefault(l => l.Carries == carries) is not { } link || stage.Name.StartsWith("upload", StringComparison.Ordinal))
        {
            return new(stage.Name) { Duration = Days(pick(stage.Lasts)) };
        }

        double slots = pick(stage.Work) / link.Rate.BytesPerSecond.ToDouble() / HalfDay;
        int duration = (int)Math.Ceiling(slots);
        return new(stage.Name) { Duration = duration, Uses = duration == 0 ? [] : [new(link.Name, (long)Math.Ceiling(slots / duration * 100))] };
    }

    private SlateStage People(EvaluatedProject project, StageDraws stage, Func<double[], double> pick)
    {
        PeoplePlan plan = project.Entry.Brief.People;
        int asked = stage.Resource switch { "assistants" => plan.Assistants, "graders" => plan.Graders, _ => plan.Checkers };
        int people = Math.Clamp(asked, 1, evaluation.Slate.With(stage.Resource).Count());
        double halfDays = pick(stage.Work) / people / capacities.HoursOf(stage.Resource);
        List<StageUse> uses = [.. capacities.People(stage.Resource).Select(r => new StageUse(r, people))];
        if (stage.Resource == "graders" && evaluation.Slate.Suites > 0)
        {
            uses.Add(new("suites", 1));
        }

        return new(stage.Name) { Duration = (int)Math.Ceiling(halfDays), Uses = uses };
    }

    private IEnumerable<GenerationLife> Lives(EvaluatedOption option, Func<double[], double> pick)
    {
        foreach (GenerationDraws generation in option.Generations.Where(g => capacities.Resources.Any(r => r.Name == g.Tier)))
        {
            yield return new(
                generation.Name,
                generation.Tier,
                (long)Math.Ceiling(pick(generation.Bytes) / SlateCapacities.StorageUnit),
                option.Stages[generation.Stage].Name,
                option.Stages[generation.Until].Name,
                (int)Math.Ceiling(generation.KeepDays * 2));
        }
    }
}
