using System.CommandLine;
using System.Globalization;
using System.Text.Json.Nodes;
using PostPipeline.Cli.Frame;
using PostPipeline.Slates.Options;
using PostPipeline.Slates.Planning;
using PostPipeline.Studies.Printing;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Slates;

/// <summary><c>slate shock</c> and <c>slate enquiry</c>: what something that happens, or a new project, does to the plan.</summary>
internal static class SlateQuestions
{
    private const string Slip = "slip";
    private const string Twice = "twice";
    private const string Camera = "camera";
    private const string Earlier = "earlier";
    private const string Nodes = "nodes";
    private static readonly string[] Kinds = [Slip, Twice, Camera, Earlier, Nodes];

    private static readonly Option<string> Project = new("--project") { Description = "A project of the slate, by name.", HelpName = "NAME", Required = true };
    private static readonly Option<string> What = new("--what")
    {
        Description = "What happens: slip (the shoot starts a week later), twice (twice the material), camera (one more), earlier (due a week earlier), nodes (half of the first class is lost).",
        HelpName = "KIND",
        Required = true,
    };
    private static readonly Option<int> Week = new("--week") { Description = "When it is known, in weeks from the start of the slate.", DefaultValueFactory = _ => 1, HelpName = "N" };

    /// <summary>Something happens: the slate is planned again with the fewest changes to what has started.</summary>
    public static Command Shock() => new Command("shock", "Something happens: plan again with the fewest changes to what has started.")
    {
        SlateCommand.File, Project, What, Week, SlateCommand.Draws, SlateCommand.Threads, SlateCommand.Seconds,
    }.Runs(async session =>
    {
        string what = session.Line.GetValue(What)!;
        if (!Kinds.Contains(what))
        {
            throw new InputException(InputProblem.Of("--what", what, $"allowed is {string.Join(", ", Kinds)}"));
        }

        double seconds = SlateCommand.SecondsOf(session);
        SlateEvaluation evaluation = await SlateCommand.EvaluateAsync(session).ConfigureAwait(false);
        int place = PlaceOf(session, evaluation);
        int week = session.Line.GetValue(Week);
        if (week < 0 || week >= evaluation.Slate.Weeks)
        {
            throw new InputException(InputProblem.Of("--week", week.ToString(CultureInfo.InvariantCulture), $"allowed is 0 to {evaluation.Slate.Weeks - 1}"));
        }

        SlateProblemBuilder builder = new(evaluation);
        SlateProblem problem = builder.Build();
        PlanSettings half = SlateCommand.Settings(seconds / 2);
        PlanAnswer first = SlatePlanner.Plan(problem, half, progress: SlateCommand.Progress(session), cancellation: session.Cancellation);
        if (first.Plan is not { } before)
        {
            return SlateCommand.NoPlan(session, first);
        }

        int now = week * 14;
        PlanAnswer second = RunningSlate.Replan(Shocked(problem, evaluation, what, place, now), before, now, half, SlateCommand.Progress(session), session.Cancellation);
        if (second.Plan is not { } after)
        {
            return SlateCommand.NoPlan(session, second);
        }

        SlateTime time = builder.Time;
        bool late = after.Projects.Any(p => p.LateSlots > before.Of(p.Project).LateSlots);
        return session.Answer(
            "postpipeline.slate.shock/1",
            new JsonObject
            {
                ["planned"] = true,
                ["known_on"] = SlateCommand.Date(time, now),
                ["rented_more"] = Rented(after) - Rented(before),
                ["projects"] = new JsonArray([.. after.Projects.Select(p => (JsonNode)new JsonObject
                {
                    ["project"] = p.Project,
                    ["pipeline_before"] = before.Of(p.Project).Pipeline,
                    ["pipeline_after"] = p.Pipeline,
                    ["end_before"] = SlateCommand.Date(time, before.Of(p.Project).End - 1),
                    ["end_after"] = SlateCommand.Date(time, p.End - 1),
                    ["late_half_days_before"] = before.Of(p.Project).LateSlots,
                    ["late_half_days_after"] = p.LateSlots,
                    ["stages_that_move"] = new JsonArray([.. Moved(before, p).Select(s => (JsonNode)s)]),
                })]),
            },
            console =>
            {
                foreach (ProjectPlan p in after.Projects)
                {
                    ProjectPlan old = before.Of(p.Project);
                    string[] moved = [.. Moved(before, p)];
                    string pipeline = old.Pipeline == p.Pipeline ? p.Pipeline : $"{p.Pipeline} instead of {old.Pipeline}";
                    string end = old.End == p.End ? $"ends {SlateCommand.Date(time, p.End - 1)} as before" : $"ends {SlateCommand.Date(time, p.End - 1)}, was {SlateCommand.Date(time, old.End - 1)}";
                    string lateness = p.LateSlots == 0 ? string.Empty : $", {p.LateSlots} half-days late";
                    console.WriteLine($"{p.Project}: {pipeline}; {end}{lateness}; {(moved.Length == 0 ? "nothing moves" : $"moves: {string.Join(", ", moved)}")}.");
                }

                console.WriteLine($"Known on {SlateCommand.Date(time, now)}. Rented more: {Rented(after) - Rented(before)} {evaluation.Slate.Currency}. {(late ? "A date gives way." : "No date gives way.")} What has started keeps its start, its nodes and its pipeline.");
                console.WriteLine("Found in the time given, not proven. Rest and local rules on working hours prevail.");
            },
            late ? ExitCode.No : ExitCode.Done);
    });

    /// <summary>Can a project be taken? It is written in the slate; the others are planned without it, then with it.</summary>
    public static Command Enquiry() => new Command("enquiry", "Can this project of the slate be taken beside the others, at what price, and whose date gives way?")
    {
        SlateCommand.File, Project, SlateCommand.Draws, SlateCommand.Threads, SlateCommand.Seconds,
    }.Runs(async session =>
    {
        double seconds = SlateCommand.SecondsOf(session);
        SlateEvaluation evaluation = await SlateCommand.EvaluateAsync(session).ConfigureAwait(false);
        int place = PlaceOf(session, evaluation);
        if (evaluation.Projects.Count == 1)
        {
            throw new InputException(InputProblem.Of("--project", evaluation.Projects[0].Entry.Name, "it is the only project of the slate; an enquiry needs others to stand beside"));
        }

        SlateProblem all = new SlateProblemBuilder(evaluation).Build();
        SlateProject enquiry = all.Projects[place];
        EnquiryAnswer answer = SlateEnquiry.Ask(
            all with { Projects = [.. all.Projects.Where(p => p != enquiry)] }, enquiry, SlateCommand.Settings(seconds), progress: SlateCommand.Progress(session), cancellation: session.Cancellation);
        string verdict = answer.Verdict switch
        {
            EnquiryVerdict.Yes => "yes",
            EnquiryVerdict.AtAPrice => "at a price",
            EnquiryVerdict.OnlyIfDatesGiveWay => "only if dates give way",
            _ => "no",
        };
        return session.Answer(
            "postpipeline.slate.enquiry/1",
            new JsonObject
            {
                ["project"] = enquiry.Name,
                ["verdict"] = verdict,
                ["pipeline"] = answer.With?.Of(enquiry.Name).Pipeline,
                ["price"] = answer.Price,
                ["rented_more"] = answer.Extras,
                ["dates"] = new JsonArray([.. answer.Dates.Select(d => (JsonNode)new JsonObject { ["project"] = d.Project, ["late_half_days_before"] = d.LateBefore, ["late_half_days_after"] = d.LateAfter })]),
                ["pipelines"] = new JsonArray([.. answer.Pipelines.Select(p => (JsonNode)new JsonObject { ["project"] = p.Project, ["from"] = p.From, ["to"] = p.To, ["money"] = p.Money })]),
                ["obstacles"] = new JsonArray([.. answer.Obstacles.Select(o => (JsonNode)o)]),
            },
            console =>
            {
                console.WriteLine($"{enquiry.Name}: {verdict}{(answer.With is { } with ? $", on {with.Of(enquiry.Name).Pipeline}" : string.Empty)}.");
                if (answer.With is not null)
                {
                    console.WriteLine($"Price on top of its own pipeline: {Numbers.Three(answer.Price)} {evaluation.Slate.Currency}, of it rented: {Numbers.Three(answer.Extras)}.");
                }

                foreach (DateChange d in answer.Dates)
                {
                    console.WriteLine($"{d.Project} would be {d.LateAfter} half-days late; without {enquiry.Name} {d.LateBefore}.");
                }

                foreach (PipelineChange p in answer.Pipelines)
                {
                    console.WriteLine($"{p.Project} takes {p.To} instead of {p.From}.");
                }

                foreach (string obstacle in answer.Obstacles)
                {
                    console.WriteLine(obstacle);
                }

                console.WriteLine($"Planned at {evaluation.Slate.Level}, found in the time given, not proven.");
            },
            answer.Verdict is EnquiryVerdict.Yes or EnquiryVerdict.AtAPrice ? ExitCode.Done : ExitCode.No);
    });

    private static SlateProblem Shocked(SlateProblem problem, SlateEvaluation evaluation, string what, int place, int now)
    {
        SlateProject project = problem.Projects[place];
        int cameras = Math.Max(1, evaluation.Projects[place].Entry.Brief.Shoot.Cameras.Count);
        switch (what)
        {
            case Slip:
                return SlateShocks.Slip(problem, project.Name, 14);
            case Twice:
                return SlateShocks.Grow(problem, project.Name, 2);
            case Camera:
                return SlateShocks.Grow(problem, project.Name, (cameras + 1.0) / cameras);
            case Earlier:
                return SlateShocks.MoveDue(problem, project.Name, Math.Max(0, project.Due - 14));
            default:
                SlateResource nodes = problem.Resources.First(r => r.Kind == SlateResourceKind.FarmClass);
                return SlateShocks.Lose(problem, nodes.Name, (nodes.Capacity + 1) / 2, now);
        }
    }

    private static int PlaceOf(Session session, SlateEvaluation evaluation)
    {
        string name = session.Line.GetValue(Project)!;
        int place = evaluation.Projects.ToList().FindIndex(p => p.Entry.Name == name);
        return place >= 0 ? place : throw new InputException(InputProblem.Of("--project", name, $"allowed is {string.Join(", ", evaluation.Projects.Select(p => p.Entry.Name))}"));
    }

    private static long Rented(SlatePlan plan) => plan.Rentals.Sum(r => r.Price);

    private static IEnumerable<string> Moved(SlatePlan before, ProjectPlan project) => project.Stages
        .Where(s => before.Of(project.Project).Stages.FirstOrDefault(b => b.Stage == s.Stage) is not { } old || old.Start != s.Start)
        .Select(s => s.Stage);
}
