using System.CommandLine;
using System.Globalization;
using System.Text.Json.Nodes;
using PostPipeline.Cli.Commands.Studies;
using PostPipeline.Cli.Frame;
using PostPipeline.Slates.Checking;
using PostPipeline.Slates.Files;
using PostPipeline.Slates.Options;
using PostPipeline.Slates.Planning;
using PostPipeline.Studies.Preparing;
using PostPipeline.Studies.Printing;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Slates;

/// <summary><c>slate</c>: many projects on one farm, one storage pool, with one set of people.</summary>
internal static class SlateCommand
{
    internal static readonly Argument<string> File = new("slate") { Description = "The slate, a YAML file; briefs lie beside it." };
    internal static readonly Option<int> Draws = Studying.Draws(SlateEvaluation.UsualDraws);
    internal static readonly Option<int> Threads = Studying.Threads();
    internal static readonly Option<double> Seconds = new("--seconds") { Description = "Time for planning, all levels together.", DefaultValueFactory = _ => 30, HelpName = "S" };
    internal static readonly Option<string> Project = new("--project") { Description = "A project of the slate, by name.", HelpName = "NAME", Required = true };
    internal static readonly Option<string?> Tables = new("--csv") { Description = "Also write the answer's tables as CSV.", HelpName = "FOLDER" };

    internal static readonly Option<string?> Running = new("--running") { Description = "The plan that is followed, as `slate plan --json` wrote it; without it the slate is planned first.", HelpName = "JSON" };

    public static Command Create() => new("slate", "Many projects on one farm, one storage pool, with one set of people.")
    {
        Check(), SlatePlanCommand.Create(), SlateShockCommand.Create(), SlateEnquiryCommand.Create(), SlateUsageCommand.Create(),
    };

    private static Command Check() => new Command("check", "Hold what is due against what there is, before anything is planned.") { File, Draws, Threads }.Runs(async session =>
    {
        SlateEvaluation evaluation = await EvaluateAsync(session).ConfigureAwait(false);
        SlateTime time = new(evaluation.Slate);
        IReadOnlyList<CapacityBreak> breaks = SlateCheck.Run(evaluation);
        return session.Answer(
            "postpipeline.slate.check/1",
            new JsonObject
            {
                ["pipelines"] = new JsonArray([.. evaluation.Projects.Select(p => (JsonNode)new JsonObject { ["project"] = p.Entry.Name, ["pipeline"] = p.Options[0].Pipeline })]),
                ["short_rest"] = new JsonArray([.. evaluation.ShortRest.Select(r => (JsonNode)r)]),
                ["breaks"] = new JsonArray([.. breaks.Select(b => (JsonNode)new JsonObject
                {
                    ["level"] = b.Level,
                    ["resource"] = b.Resource,
                    ["unit"] = b.Unit,
                    ["from"] = Date(time, b.From),
                    ["until"] = Date(time, b.Until - 1),
                    ["needed"] = Math.Round(b.Inside, 3),
                    ["capacity"] = Math.Round(b.Capacity, 3),
                    ["projects"] = new JsonArray([.. b.Hit.Select(h => (JsonNode)h)]),
                })]),
            },
            console =>
            {
                console.WriteLine($"Each project on its cheapest pipeline: {string.Join(", ", evaluation.Projects.Select(p => $"{p.Entry.Name} {p.Options[0].Pipeline}"))}.");
                foreach (CapacityBreak b in breaks)
                {
                    console.WriteLine($"{b.Level}: {b.Resource} breaks by {Date(time, b.Until - 1)}: from {Date(time, b.From)} {Numbers.Three(b.Inside)} {b.Unit} are due, {Numbers.Three(b.Capacity)} can be had. Hit, the least priority first: {string.Join(", ", b.Hit)}.");
                }

                SayRest(console, evaluation);
                console.WriteLine(breaks.Count == 0 ? "No pair of a release and a due date breaks. That does not show that an order of work exists: plan it." : "No order of work helps against a break; another pipeline, a rented extra or a date can.");
            },
            breaks.Count == 0 ? ExitCode.Done : ExitCode.No);
    });

    internal static Task<SlateEvaluation> EvaluateAsync(Session session) => EvaluateAsync(session, SlateReader.ReadFile(session.Line.GetValue(File)!));

    /// <summary>The half-day of the slate's today, kept inside its clock.</summary>
    internal static int Now(Slate slate, SlateProblem problem) => Math.Clamp(problem.Clock.FirstSlotOf(slate.Today), 0, problem.Clock.Slots - 1);

    internal static async Task<SlateEvaluation> EvaluateAsync(Session session, Slate slate, RunningPlanFile? running = null)
    {
        int draws = DrawsOf(session, running);
        int threads = Studying.ThreadsOf(session, Threads);
        Preparation preparation = new(await session.ClientsAsync().ConfigureAwait(false));
        return SlateEvaluation.Of(
            slate,
            await SlateEvaluation.PrepareAsync(slate, preparation, new Notes(session), session.Cancellation).ConfigureAwait(false),
            draws,
            threads: threads,
            cancellation: session.Cancellation);
    }

    internal static int PlaceOf(Session session, Slate slate)
    {
        string name = session.Line.GetValue(Project)!;
        int place = slate.Projects.ToList().FindIndex(p => p.Name == name);
        return place >= 0 ? place : throw new InputException(InputProblem.Of("--project", name, $"allowed is {string.Join(", ", slate.Projects.Select(p => p.Name))}"));
    }

    /// <summary>The plan that the user follows; null where none was given.</summary>
    internal static RunningPlanFile? RunningOf(Session session) => session.Line.GetValue(Running) is { } path ? RunningPlanFile.ReadFile(path) : null;

    /// <summary>How the plan before came about, in one word for machines.</summary>
    internal static string Before(RunningPlanFile? running) => running is null ? "planned" : "read";

    internal static double SecondsOf(Session session)
    {
        double seconds = session.Line.GetValue(Seconds);
        return seconds is >= 0.1 and <= 86_400
            ? seconds
            : throw new InputException(InputProblem.Of("--seconds", seconds.ToString(CultureInfo.InvariantCulture), "allowed is 0.1 to 86,400"));
    }

    internal static void SayRest(IAnsiConsole console, SlateEvaluation evaluation)
    {
        foreach (string rest in evaluation.ShortRest)
        {
            console.WriteLine($"Too little rest on the shoot, which no plan here mends. {rest}.");
        }
    }

    internal static PlanSettings Settings(double seconds) => new() { Seconds = Math.Max(0.1, seconds), Repeatable = true };

    internal static IProgress<PlanProgress> Progress(Session session) => new Reached(session);

    internal static int NoPlan(Session session, PlanAnswer answer) => session.Answer(
        "postpipeline.slate.plan/1",
        new JsonObject { ["planned"] = false, ["proven_impossible"] = answer.ProvenImpossible, ["obstacles"] = new JsonArray([.. answer.Obstacles.Select(o => (JsonNode)o)]) },
        console => console.WriteLine($"{(answer.ProvenImpossible ? "No plan keeps every limit" : "No plan was found in the time given")}: {string.Join("; ", answer.Obstacles)}"),
        ExitCode.No);

    internal static string Date(SlateTime time, int slot) => time.Clock.DateOf(slot).ToString("uuuu-MM-dd", CultureInfo.InvariantCulture);

    // Durations are quantiles of draws, so a plan is held against the slate on as many as it was made with.
    private static int DrawsOf(Session session, RunningPlanFile? running)
    {
        int draws = Studying.DrawsOf(session, Draws);
        return running is null || running.Draws == draws ? draws
            : session.Line.GetResult(Draws) is null or { Implicit: true } ? running.Draws
            : throw new InputException(InputProblem.Of("--draws", $"{draws}", $"the plan of --running was made with {running.Draws}; allowed is that, or leave --draws away"));
    }

    internal static IProgress<string> Log(Session session) => new Notes(session);

    private sealed class Notes(Session session) : IProgress<string>
    {
        public void Report(string value) => session.Note($"… {value}");
    }

    // One line a level and second at most: a search reports far more often than anybody reads.
    private sealed class Reached(Session session) : IProgress<PlanProgress>
    {
        private readonly Lock gate = new();
        private PlanLevel? level;
        private long last;

        public void Report(PlanProgress value)
        {
            lock (gate)
            {
                long now = TimeProvider.System.GetTimestamp();
                if (level == value.Level && TimeProvider.System.GetElapsedTime(last, now) < TimeSpan.FromSeconds(1))
                {
                    return;
                }

                (level, last) = (value.Level, now);
            }

            session.Note($"… {PlanLevelText.Of(value.Level)}: {value.Value} so far, no plan has less than {value.Bound}");
        }
    }
}
