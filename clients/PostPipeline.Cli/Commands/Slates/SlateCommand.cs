using System.CommandLine;
using System.Globalization;
using System.Text.Json.Nodes;
using PostPipeline.Cli.Commands.Studies;
using PostPipeline.Cli.Frame;
using PostPipeline.Slates.Checking;
using PostPipeline.Slates.Files;
using PostPipeline.Slates.Judging;
using PostPipeline.Slates.Options;
using PostPipeline.Slates.Output;
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
    private static readonly Option<string?> Dates = new("--dates") { Description = "Also write the plan as an iCalendar file.", HelpName = "FILE" };

    private static readonly Option<string?> Tables = new("--csv") { Description = "Also write stages, days (farm and storage with their capacity) and lateness as CSV.", HelpName = "FOLDER" };

    public static Command Create() => new("slate", "Many projects on one farm, one storage pool, with one set of people.") { Check(), Plan(), SlateShockCommand.Create(), SlateEnquiryCommand.Create() };

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

                console.WriteLine(breaks.Count == 0 ? "No pair of a release and a due date breaks. That does not show that an order of work exists: plan it." : "No order of work helps against a break; another pipeline, a rented extra or a date can.");
            },
            breaks.Count == 0 ? ExitCode.Done : ExitCode.No);
    });

    private static Command Plan() => new Command("plan", "Plan which pipeline each project takes and when its stages run; then run the plan on draws.") { File, Draws, Threads, Seconds, Dates, Tables }.Runs(async session =>
    {
        double seconds = SecondsOf(session);
        SlateEvaluation evaluation = await EvaluateAsync(session).ConfigureAwait(false);
        SlateProblemBuilder builder = new(evaluation);
        SlateProblem problem = builder.Build();
        OutputFolder? tables = session.Line.GetValue(Tables) is { } folder ? OutputFolder.Open(folder) : null;
        PlanAnswer answer = SlatePlanner.Plan(problem, Settings(seconds), progress: Progress(session), cancellation: session.Cancellation);
        if (answer.Plan is not { } plan)
        {
            return NoPlan(session, answer);
        }

        session.Note("… why each project got its pipeline");
        IReadOnlyList<PipelineReason> reasons = SlateReasons.OfAll(problem, plan, Settings(Math.Max(0.1, seconds / 4)), session.Cancellation);

        IReadOnlyList<JudgedProject> judged = new PlanSimulation(evaluation, builder, plan).Run(session.Cancellation);
        if (session.Line.GetValue(Dates) is { } path)
        {
            OutputFolder.Open(Path.GetDirectoryName(Path.GetFullPath(path))!).Write(Path.GetFileName(path), SlateCalendarFile.Write(plan, builder.Time, TimeProvider.System));
        }

        if (tables is not null)
        {
            SlateTables.Write(tables, evaluation, builder, problem, plan, judged);
        }

        bool sure = judged.All(j => j.OnTime.Share >= evaluation.Slate.Confidence);
        return session.Answer("postpipeline.slate.plan/1", Result(builder.Time, plan, judged, reasons), console => Print(console, evaluation, builder.Time, plan, judged, reasons), sure ? ExitCode.Done : ExitCode.No);
    });

    internal static async Task<SlateEvaluation> EvaluateAsync(Session session)
    {
        int draws = Studying.DrawsOf(session, Draws);
        int threads = Studying.ThreadsOf(session, Threads);
        Slate slate = SlateReader.ReadFile(session.Line.GetValue(File)!);
        Preparation preparation = new(await session.ClientsAsync().ConfigureAwait(false));
        return SlateEvaluation.Of(
            slate,
            await SlateEvaluation.PrepareAsync(slate, preparation, new Notes(session), session.Cancellation).ConfigureAwait(false),
            draws,
            threads: threads,
            cancellation: session.Cancellation);
    }

    private static JsonObject Result(SlateTime time, SlatePlan plan, IReadOnlyList<JudgedProject> judged, IReadOnlyList<PipelineReason> reasons) => new()
    {
        ["planned"] = true,
        ["levels"] = new JsonArray([.. plan.Levels.Select(l => (JsonNode)new JsonObject { ["level"] = l.Level.ToString(), ["value"] = l.Value, ["bound"] = l.Bound, ["gap"] = l.Gap, ["proven"] = l.IsProven })]),
        ["rentals"] = new JsonArray([.. plan.Rentals.Select(r => (JsonNode)new JsonObject { ["resource"] = r.Resource, ["from"] = Date(time, r.From), ["until"] = Date(time, r.Until - 1), ["units"] = r.Units, ["price"] = r.Price })]),
        ["projects"] = new JsonArray([.. plan.Projects.Select((p, i) => (JsonNode)new JsonObject
        {
            ["project"] = p.Project,
            ["pipeline"] = p.Pipeline,
            ["planned_end"] = Date(time, p.End - 1),
            ["late_half_days"] = p.LateSlots,
            ["on_time"] = judged[i].OnTime.Share,
            ["instead"] = new JsonArray([.. reasons[i].Alternatives.Select(a => (JsonNode)new JsonObject { ["pipeline"] = a.Pipeline, ["reason"] = a.Reason })]),
            ["stages"] = new JsonArray([.. p.Stages.Select(s => (JsonNode)new JsonObject { ["stage"] = s.Stage, ["start"] = s.Start, ["end"] = s.End, ["farm_class"] = s.FarmClass, ["nodes"] = s.Nodes })]),
        })]),
    };

    private static void Print(IAnsiConsole console, SlateEvaluation evaluation, SlateTime time, SlatePlan plan, IReadOnlyList<JudgedProject> judged, IReadOnlyList<PipelineReason> reasons)
    {
        Table table = new Table().Border(TableBorder.Simple).AddColumns("project", "pipeline", "planned end", "due", $"on time, {evaluation.Draws} draws", "end P50", "end P90");
        for (int i = 0; i < plan.Projects.Count; i++)
        {
            ProjectPlan p = plan.Projects[i];
            table.AddRow(
                Markup.Escape(p.Project),
                p.Pipeline,
                Date(time, p.End - 1),
                evaluation.Slate.Projects[i].Due.ToString("uuuu-MM-dd", CultureInfo.InvariantCulture),
                Numbers.Percent(judged[i].OnTime.Share, judged[i].OnTime.StandardError),
                Date(time, (int)Math.Ceiling(judged[i].End.P50) - 1),
                Date(time, (int)Math.Ceiling(judged[i].End.P90) - 1));
        }

        console.Write(table);
        foreach (PipelineReason r in reasons.Where(r => r.Alternatives.Count > 0))
        {
            console.WriteLine($"{r.Project} takes {r.Pipeline}: {string.Join("; ", r.Alternatives.Select(a => a.Reason))}.");
        }

        foreach (RentalPlan r in plan.Rentals)
        {
            bool storage = r.Resource is "online" or "nearline";
            string what = storage ? $"{Numbers.Three(r.Units * SlateCapacities.StorageUnit / 1e12)} TB of {r.Resource} storage" : $"{r.Units} of {r.Resource}";
            console.WriteLine($"Rent {what} from {Date(time, r.From)} to {Date(time, r.Until - 1)} for {r.Price} {evaluation.MoneyUnit}.");
        }

        foreach (PlanLevelResult l in plan.Levels)
        {
            console.WriteLine($"{PlanLevelText.Of(l.Level)}: {l.Value}{(l.IsProven ? ", proven the least" : $", no plan has less than {l.Bound}: a gap of {l.Gap}")}");
        }

        console.WriteLine($"Planned at {evaluation.Slate.Level}; probabilities hold if nothing outside the briefs' lists happens. Rest and local rules on working hours prevail.");
    }

    internal static int PlaceOf(Session session, SlateEvaluation evaluation)
    {
        string name = session.Line.GetValue(Project)!;
        int place = evaluation.Projects.ToList().FindIndex(p => p.Entry.Name == name);
        return place >= 0 ? place : throw new InputException(InputProblem.Of("--project", name, $"allowed is {string.Join(", ", evaluation.Projects.Select(p => p.Entry.Name))}"));
    }

    internal static double SecondsOf(Session session)
    {
        double seconds = session.Line.GetValue(Seconds);
        return seconds is >= 0.1 and <= 86_400
            ? seconds
            : throw new InputException(InputProblem.Of("--seconds", seconds.ToString(CultureInfo.InvariantCulture), "allowed is 0.1 to 86,400"));
    }

    internal static PlanSettings Settings(double seconds) => new() { Seconds = Math.Max(0.1, seconds), Repeatable = true };

    internal static IProgress<PlanProgress> Progress(Session session) => new Reached(session);

    internal static int NoPlan(Session session, PlanAnswer answer) => session.Answer(
        "postpipeline.slate.plan/1",
        new JsonObject { ["planned"] = false, ["proven_impossible"] = answer.ProvenImpossible, ["obstacles"] = new JsonArray([.. answer.Obstacles.Select(o => (JsonNode)o)]) },
        console => console.WriteLine($"{(answer.ProvenImpossible ? "No plan keeps every limit" : "No plan was found in the time given")}: {string.Join("; ", answer.Obstacles)}"),
        ExitCode.No);

    internal static string Date(SlateTime time, int slot) => time.Clock.DateOf(slot).ToString("uuuu-MM-dd", CultureInfo.InvariantCulture);

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
