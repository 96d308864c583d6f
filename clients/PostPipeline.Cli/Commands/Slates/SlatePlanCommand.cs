using System.CommandLine;
using System.Globalization;
using System.Text.Json.Nodes;
using PostPipeline.Cli.Frame;
using PostPipeline.Slates.Files;
using PostPipeline.Slates.Judging;
using PostPipeline.Slates.Options;
using PostPipeline.Slates.Output;
using PostPipeline.Slates.Planning;
using PostPipeline.Studies.Printing;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Slates;

/// <summary><c>slate plan</c>: which pipeline each project takes and when its stages run, and how sure that is.</summary>
internal static class SlatePlanCommand
{
    private static readonly Option<string?> Dates = new("--dates") { Description = "Also write the plan as an iCalendar file.", HelpName = "FILE" };

    private static readonly Option<string[]> Share = new("--share")
    {
        Description = $"How the time is divided: the share of an aim ({string.Join(", ", Enum.GetValues<PlanLevel>().Where(l => l != PlanLevel.Changes).Select(PlanLevelText.Word))}) against the others, which have 1; once an aim.",
        HelpName = "AIM=SHARE",
    };

    public static Command Create() => new Command("plan", "Plan which pipeline each project takes and when its stages run; then run the plan on draws.")
    {
        SlateCommand.File, SlateCommand.Running, SlateCommand.Draws, SlateCommand.Threads, SlateCommand.Seconds, Share, Dates, SlateCommand.Tables,
    }.Runs(async session =>
    {
        double seconds = SlateCommand.SecondsOf(session);
        PlanSettings settings = SlateCommand.Settings(seconds) with { Shares = SharesOf(session) };
        RunningPlanFile? file = SlateCommand.RunningOf(session);
        SlateEvaluation evaluation = await SlateCommand.EvaluateAsync(session).ConfigureAwait(false);
        SlateProblemBuilder builder = new(evaluation);
        SlateProblem problem = builder.Build();
        OutputFolder? tables = session.Line.GetValue(SlateCommand.Tables) is { } folder ? OutputFolder.Open(folder) : null;
        SlatePlan? running = RunningOf(session, file, evaluation.Slate, problem);
        int now = running is null ? 0 : SlateCommand.Now(evaluation.Slate, problem);
        PlanAnswer answer = running is null
            ? SlatePlanner.Plan(problem, settings, progress: SlateCommand.Progress(session), cancellation: session.Cancellation)
            : RunningSlate.Replan(problem, running, now, settings, SlateCommand.Progress(session), session.Cancellation);
        if (answer.Plan is not { } plan)
        {
            return SlateCommand.NoPlan(session, answer);
        }

        session.Note("… why each project got its pipeline");
        SlateProblem standing = running is null ? problem : RunningSlate.At(problem, running, now);
        IReadOnlyList<PipelineReason> reasons = SlateReasons.OfAll(standing, plan, SlateCommand.Settings(Math.Max(0.1, seconds / 4)), session.Cancellation);

        IReadOnlyList<JudgedProject> judged = new PlanSimulation(evaluation, builder, plan, now).Run(session.Cancellation);
        if (session.Line.GetValue(Dates) is { } path)
        {
            OutputFolder.Open(Path.GetDirectoryName(Path.GetFullPath(path))!).Write(Path.GetFileName(path), SlateCalendarFile.Write(plan, builder.Time, TimeProvider.System));
        }

        if (tables is not null)
        {
            SlateTables.Write(tables, evaluation, builder, problem with { Projects = standing.Projects }, plan, judged);
        }

        bool sure = judged.All(j => j.OnTime.Share >= evaluation.Slate.Confidence);
        return session.Answer(RunningPlanFile.Schema, Result(evaluation, problem, builder.Time, plan, judged, reasons, running), console => Print(console, evaluation, builder.Time, plan, judged, reasons, running, now), sure ? ExitCode.Done : ExitCode.No);
    });

    // A slate that has changed keeps of its plan what still fits; the rest is said and planned anew.
    private static SlatePlan? RunningOf(Session session, RunningPlanFile? file, Slate slate, SlateProblem problem)
    {
        List<string> leftOut = [];
        SlatePlan? running = file?.OnChanged(slate, problem, leftOut);
        foreach (string text in leftOut)
        {
            session.Note($"not followed: {text}");
        }

        return running;
    }

    private static IReadOnlyList<string> Moved(SlatePlan plan, SlatePlan running, string project) =>
        running.Projects.Any(p => p.Project == project) ? plan.Moved(running, project) : [.. plan.Of(project).Stages.Select(s => s.Stage)];

    private static Dictionary<PlanLevel, double> SharesOf(Session session)
    {
        Dictionary<PlanLevel, double> shares = [];
        foreach (string given in session.Line.GetValue(Share) ?? [])
        {
            string[] parts = given.Split('=');
            PlanLevel[] level = [.. Enum.GetValues<PlanLevel>().Where(l => l != PlanLevel.Changes && PlanLevelText.Word(l) == parts[0])];
            if (parts.Length != 2 || level.Length == 0 || !double.TryParse(parts[1], NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double share) || share is < 0.001 or > 1000)
            {
                throw new InputException(InputProblem.Of("--share", given, $"expected is AIM=SHARE with a share from 0.001 to 1,000 and one of {string.Join(", ", Enum.GetValues<PlanLevel>().Where(l => l != PlanLevel.Changes).Select(PlanLevelText.Word))}"));
            }

            if (!shares.TryAdd(level[0], share))
            {
                throw new InputException(InputProblem.Of("--share", given, $"the share of {parts[0]} is given twice; once is expected"));
            }
        }

        return shares;
    }

    private static JsonObject Result(SlateEvaluation evaluation, SlateProblem problem, SlateTime time, SlatePlan plan, IReadOnlyList<JudgedProject> judged, IReadOnlyList<PipelineReason> reasons, SlatePlan? running) => new()
    {
        ["planned"] = true,
        ["slate"] = new JsonObject
        {
            ["title"] = evaluation.Slate.Title,
            ["starts"] = SlateCommand.Date(time, 0),
            ["weeks"] = evaluation.Slate.Weeks,
            ["level"] = evaluation.Slate.Level,
            ["draws"] = evaluation.Draws,
            ["shared_sha256"] = PlanDigest.OfHouse(problem),
        },
        ["short_rest"] = new JsonArray([.. evaluation.ShortRest.Select(r => (JsonNode)r)]),
        ["levels"] = new JsonArray([.. plan.Levels.Select(l => (JsonNode)new JsonObject { ["level"] = l.Level.ToString(), ["value"] = l.Value, ["bound"] = l.Bound, ["gap"] = l.Gap, ["proven"] = l.IsProven })]),
        ["rentals"] = new JsonArray([.. plan.Rentals.Select(r => (JsonNode)new JsonObject { ["resource"] = r.Resource, ["from"] = SlateCommand.Date(time, r.From), ["until"] = SlateCommand.Date(time, r.Until - 1), ["units"] = r.Units, ["price"] = r.Price })]),
        ["projects"] = new JsonArray([.. plan.Projects.Select((p, i) => (JsonNode)new JsonObject
        {
            ["project"] = p.Project,
            ["sha256"] = PlanDigest.OfProject(problem.Projects[i]),
            ["pipeline"] = p.Pipeline,
            ["money"] = p.Money,
            ["planned_end"] = SlateCommand.Date(time, p.End - 1),
            ["late_half_days"] = p.LateSlots,
            ["on_time"] = judged[i].OnTime.Share,
            ["stages_that_move"] = running is null ? null : new JsonArray([.. Moved(plan, running, p.Project).Select(s => (JsonNode)s)]),
            ["instead"] = new JsonArray([.. reasons[i].Alternatives.Select(a => (JsonNode)new JsonObject { ["pipeline"] = a.Pipeline, ["reason"] = a.Reason })]),
            ["stages"] = new JsonArray([.. p.Stages.Select(s => (JsonNode)new JsonObject { ["stage"] = s.Stage, ["start"] = s.Start, ["end"] = s.End, ["farm_class"] = s.FarmClass, ["nodes"] = s.Nodes })]),
        })]),
    };

    private static void Print(IAnsiConsole console, SlateEvaluation evaluation, SlateTime time, SlatePlan plan, IReadOnlyList<JudgedProject> judged, IReadOnlyList<PipelineReason> reasons, SlatePlan? running, int now)
    {
        Table table = new Table().Border(TableBorder.Simple).AddColumns("project", "pipeline", "planned end", "due", $"on time, {evaluation.Draws} draws", "end P50", "end P90");
        for (int i = 0; i < plan.Projects.Count; i++)
        {
            ProjectPlan p = plan.Projects[i];
            table.AddRow(
                Markup.Escape(p.Project),
                p.Pipeline,
                SlateCommand.Date(time, p.End - 1),
                evaluation.Slate.Projects[i].Due.ToString("uuuu-MM-dd", CultureInfo.InvariantCulture),
                Numbers.Percent(judged[i].OnTime.Share, judged[i].OnTime.StandardError),
                SlateCommand.Date(time, (int)Math.Ceiling(judged[i].End.P50) - 1),
                SlateCommand.Date(time, (int)Math.Ceiling(judged[i].End.P90) - 1));
        }

        console.Write(table);
        if (running is not null)
        {
            string[] moves = [.. plan.Projects.Select(p => (p.Project, Stages: Moved(plan, running, p.Project))).Where(m => m.Stages.Count > 0).Select(m => $"{m.Project}: {string.Join(", ", m.Stages)}")];
            console.WriteLine($"Planned on from the plan that was read; what has started by {SlateCommand.Date(time, now)} stays. {(moves.Length == 0 ? "Nothing moves." : $"At another time, or new: {string.Join("; ", moves)}.")}");
        }

        foreach (PipelineReason r in reasons.Where(r => r.Alternatives.Count > 0))
        {
            console.WriteLine($"{r.Project} takes {r.Pipeline}: {string.Join("; ", r.Alternatives.Select(a => a.Reason))}.");
        }

        foreach (RentalPlan r in Joined(plan.Rentals))
        {
            bool storage = r.Resource is "online" or "nearline";
            string what = storage ? $"{Numbers.Three(r.Units * SlateCapacities.StorageUnit / 1e12)} TB of {r.Resource} storage" : $"{r.Units} of {r.Resource}";
            console.WriteLine($"Rent {what} from {SlateCommand.Date(time, r.From)} to {SlateCommand.Date(time, r.Until - 1)} for {Numbers.Exact(r.Price)} {evaluation.MoneyUnit}.");
        }

        foreach (PlanLevelResult l in plan.Levels)
        {
            // What pipelines cost is estimated; half-days and rents are counted.
            string Said(long value) => l.Level == PlanLevel.Money ? Numbers.Three(value) : Numbers.Exact(value);
            console.WriteLine($"{PlanLevelText.Of(l.Level)}: {Said(l.Value)}{(l.IsProven ? ", proven the least" : $", no plan has less than {Said(l.Bound)}: a gap of {Said(l.Gap)}")}");
        }

        SlateCommand.SayRest(console, evaluation);
        console.WriteLine($"Planned at {evaluation.Slate.Level}; probabilities hold if nothing outside the briefs' lists happens, and if storage takes what a draw needs beyond the plan: a full tier delays nobody in them. Rest and local rules on working hours prevail.");
    }

    // Weeks in a row with the same number of units are one line.
    private static List<RentalPlan> Joined(IReadOnlyList<RentalPlan> rentals)
    {
        List<RentalPlan> joined = [];
        foreach (RentalPlan r in rentals.OrderBy(r => r.Resource, StringComparer.Ordinal).ThenBy(r => r.From))
        {
            if (joined.Count > 0 && joined[^1] is var last && last.Resource == r.Resource && last.Until == r.From && last.Units == r.Units)
            {
                joined[^1] = last with { Until = r.Until, Price = last.Price + r.Price };
            }
            else
            {
                joined.Add(r);
            }
        }

        return joined;
    }
}
