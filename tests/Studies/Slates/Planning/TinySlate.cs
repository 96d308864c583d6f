using NodaTime;
using PostPipeline.Quantities.Randomness;
using PostPipeline.Slates.Planning;

namespace PostPipeline.Studies.Tests.Slates.Planning;

/// <summary>Slates so small that every plan can be tried.</summary>
internal static class TinySlate
{
    public const int Slots = 9;

    public static SlateProblem Create(int seed)
    {
        RandomStream random = new(seed, RandomPurpose.General);
        List<SlateProject> projects = [];
        for (int project = 0; project < 3; project++)
        {
            List<SlateOption> options = [];
            for (int option = 0; option < 2; option++)
            {
                SlateStage render = new("render")
                {
                    Farm = [new("nodes", 2 + random.NextBelow(5), random.NextBelow(2) == 0 ? [1, 2] : [2])],
                };
                SlateStage grade = new("grade")
                {
                    After = random.NextBelow(3) > 0 ? [new("render", random.NextBelow(2) - random.NextBelow(2))] : [],
                    Duration = 1 + random.NextBelow(2),
                    Uses = random.NextBelow(2) == 0 ? [new("suite", 1)] : [],
                    Calendar = random.NextBelow(2) == 0 ? "days" : null,
                };
                options.Add(new($"p{option}", [render, grade])
                {
                    Money = random.NextBelow(10),
                    Lives = random.NextBelow(2) == 0 ? [new("pictures", "disk", 1 + random.NextBelow(2), "render", "grade", random.NextBelow(2))] : [],
                });
            }

            projects.Add(new($"project {project}", 3 + random.NextBelow(4), options) { Weight = 1 + random.NextBelow(2), Release = random.NextBelow(2) });
        }

        return new()
        {
            Clock = new(new LocalDate(2030, 1, 7), Slots),
            Calendars = [new("days", [.. Enumerable.Range(0, Slots).Select(s => s % 4 != 3)])],
            Resources =
            [
                new("nodes", SlateResourceKind.FarmClass, 2) { Rental = random.NextBelow(2) == 0 ? new(3, 1, 2, 4) : null },
                new("suite", SlateResourceKind.Suite, 1) { Outages = [new(2, 3, 1, "maintenance")] },
                new("disk", SlateResourceKind.Storage, 3),
            ],
            Projects = projects,
        };
    }

    /// <summary>The least lateness, then extras, then money, over every option, start and number of nodes; null where nothing fits.</summary>
    public static (long Lateness, long Extras, long Money)? Least(SlateProblem problem)
    {
        (long, long, long)? best = null;
        List<List<ProjectPlan>> ways = [.. problem.Projects.Select(p => p.Options.SelectMany(o => Ways(p, o)).ToList())];
        long[][] used = [.. problem.Resources.Select(_ => new long[Slots])];
        Try(0, 0, 0);
        return best;

        void Try(int project, long lateness, long money)
        {
            if (best is (long least, _, _) && lateness > least)
            {
                return;
            }

            if (project == ways.Count)
            {
                long extras = Extras(problem, used);
                if (best is null || (lateness, extras, money).CompareTo(best.Value) < 0)
                {
                    best = (lateness, extras, money);
                }

                return;
            }

            SlateProject definition = problem.Projects[project];
            foreach (ProjectPlan way in ways[project])
            {
                SlateOption option = definition.Options.Single(o => o.Pipeline == way.Pipeline);
                Add(problem, option, way, used, 1);
                if (Fits(problem, used))
                {
                    Try(project + 1, lateness + (Math.Max(0, way.End - definition.Due) * definition.Weight), money + option.Money);
                }

                Add(problem, option, way, used, -1);
            }
        }
    }

    private static IEnumerable<ProjectPlan> Ways(SlateProject project, SlateOption option)
    {
        SlateStage render = option.Stages[0];
        SlateStage grade = option.Stages[1];
        foreach (int nodes in render.Farm[0].NodeCounts)
        {
            int length = (int)Math.Ceiling(render.Farm[0].NodeHalfDays / nodes);
            for (int start = project.Release; start + length <= Slots; start++)
            {
                for (int next = project.Release; next < Slots; next++)
                {
                    int end = next;
                    int left = grade.Duration;
                    for (; left > 0 && end < Slots; end++)
                    {
                        left -= grade.Calendar is null || end % 4 != 3 ? 1 : 0;
                    }

                    bool waits = grade.After.All(a => next >= start + length + a.LagSlots);
                    if (left == 0 && waits)
                    {
                        yield return new(project.Name, option.Pipeline, [new("render", start, start + length, "nodes", nodes), new("grade", next, end, null, 0)], 0, option.Money);
                    }
                }
            }
        }
    }

    private static void Add(SlateProblem problem, SlateOption option, ProjectPlan way, long[][] used, int sign)
    {
        foreach (StagePlan stage in way.Stages)
        {
            for (int slot = stage.Start; slot < stage.End; slot++)
            {
                used[0][slot] += stage.Nodes * sign;
                used[1][slot] += option.Stages.Single(s => s.Name == stage.Stage).Uses.Sum(u => u.Amount) * sign;
            }
        }

        foreach (GenerationLife life in option.Lives)
        {
            for (int slot = way.Stages[0].Start; slot < Math.Min(Slots, way.Stages[1].End + life.LagSlots); slot++)
            {
                used[2][slot] += life.Amount * sign;
            }
        }
    }

    private static bool Fits(SlateProblem problem, long[][] used)
    {
        for (int slot = 0; slot < Slots; slot++)
        {
            // Periods of four half-days that begin at half-day 2 or later: from half-day 4 on.
            long rentable = problem.Resources[0].Rental is not null && slot >= 4 ? 1 : 0;
            if (used[0][slot] > 2 + rentable || used[1][slot] > (slot == 2 ? 0 : 1) || used[2][slot] > 3)
            {
                return false;
            }
        }

        return true;
    }

    private static long Extras(SlateProblem problem, long[][] used) =>
        problem.Resources[0].Rental is null ? 0 : 3 * (Enumerable.Range(4, 4).Any(s => used[0][s] > 2) ? 1 : 0) + (3 * (used[0][8] > 2 ? 1 : 0));
}
