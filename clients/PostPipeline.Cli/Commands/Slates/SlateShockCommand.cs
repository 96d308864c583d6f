using System.CommandLine;
using System.Globalization;
using System.Text.Json.Nodes;
using PostPipeline.Cli.Commands.Studies;
using PostPipeline.Cli.Frame;
using PostPipeline.Slates.Files;
using PostPipeline.Slates.Options;
using PostPipeline.Slates.Planning;
using PostPipeline.Studies.Printing;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Slates;

/// <summary><c>slate shock</c>: what something that happens does to the plan.</summary>
internal static class SlateShockCommand
{
    private static readonly Option<string> What = new("--what")
    {
        Description = $"What happens: {string.Join("; ", SlateShock.All.Select(s => $"{s.Word} ({s.Text})"))}.",
        HelpName = "KIND",
        Required = true,
    };
    private static readonly Option<double?> Factor = new("--factor") { Description = $"What effects are multiplied by; {SlateShock.Effects.UsualFactor.ToString(CultureInfo.InvariantCulture)} without it.", HelpName = "F" };
    private static readonly Option<int> Week = new("--week") { Description = "When it is known, in weeks from the start of the slate.", DefaultValueFactory = _ => 1, HelpName = "N" };

    /// <summary>Something happens: the slate is planned again with the fewest changes to what has started.</summary>
    public static Command Create() => new Command("shock", "Something happens: plan again with the fewest changes to what has started.")
    {
        SlateCommand.File, SlateCommand.Project, What, Factor, Week, SlateCommand.Running, SlateCommand.Draws, SlateCommand.Threads, SlateCommand.Seconds,
    }.Runs(async session =>
    {
        string word = session.Line.GetValue(What)!;
        SlateShock shock = SlateShock.All.FirstOrDefault(s => s.Word == word)
            ?? throw new InputException(InputProblem.Of("--what", word, $"allowed is {string.Join(", ", SlateShock.All.Select(s => s.Word))}"));
        double seconds = SlateCommand.SecondsOf(session);
        double? factor = FactorOf(session, shock);
        Slate slate = SlateReader.ReadFile(session.Line.GetValue(SlateCommand.File)!);
        int place = SlateCommand.PlaceOf(session, slate);
        int now = NowOf(session, slate);
        RunningPlanFile? running = SlateCommand.RunningOf(session);
        SlateEvaluation evaluation = await SlateCommand.EvaluateAsync(session, slate, running).ConfigureAwait(false);
        SlateProblemBuilder builder = new(evaluation);
        SlateProblem problem = builder.Build();
        SlatePlan? before = running?.On(slate, problem);
        ShockedSlate shocked = Studying.Asked("--what", word, () => shock.To(problem, evaluation, place, now, factor: factor));
        PlanSettings settings = SlateCommand.Settings(before is null ? seconds / 2 : seconds);
        if (before is null)
        {
            PlanAnswer first = SlatePlanner.Plan(problem, settings, progress: SlateCommand.Progress(session), cancellation: session.Cancellation);
            if (first.Plan is not { } planned)
            {
                return SlateCommand.NoPlan(session, first);
            }

            before = planned;
        }

        PlanAnswer second = RunningSlate.Replan(shocked.Problem, before, now, settings, SlateCommand.Progress(session), session.Cancellation);
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
                ["before"] = SlateCommand.Before(running),
                ["known_on"] = SlateCommand.Date(time, now),
                ["rented_more"] = after.Rented - before.Rented,
                ["breaks"] = new JsonArray([.. shocked.Breaks.Select(b => (JsonNode)b)]),
                ["projects"] = new JsonArray([.. after.Projects.Select(p => (JsonNode)new JsonObject
                {
                    ["project"] = p.Project,
                    ["pipeline_before"] = before.Of(p.Project).Pipeline,
                    ["pipeline_after"] = p.Pipeline,
                    ["end_before"] = SlateCommand.Date(time, before.Of(p.Project).End - 1),
                    ["end_after"] = SlateCommand.Date(time, p.End - 1),
                    ["late_half_days_before"] = before.Of(p.Project).LateSlots,
                    ["late_half_days_after"] = p.LateSlots,
                    ["stages_that_move"] = new JsonArray([.. after.Moved(before, p.Project).Select(s => (JsonNode)s)]),
                })]),
            },
            console =>
            {
                foreach (ProjectPlan p in after.Projects)
                {
                    ProjectPlan old = before.Of(p.Project);
                    IReadOnlyList<string> moved = after.Moved(before, p.Project);
                    string pipeline = old.Pipeline == p.Pipeline ? p.Pipeline : $"{p.Pipeline} instead of {old.Pipeline}";
                    string end = old.End == p.End ? $"ends {SlateCommand.Date(time, p.End - 1)} as before" : $"ends {SlateCommand.Date(time, p.End - 1)}, was {SlateCommand.Date(time, old.End - 1)}";
                    string lateness = p.LateSlots == 0 ? string.Empty : $", {p.LateSlots} half-days late";
                    console.WriteLine($"{p.Project}: {pipeline}; {end}{lateness}; {(moved.Count == 0 ? "nothing moves" : $"moves: {string.Join(", ", moved)}")}.");
                }

                foreach (string broken in shocked.Breaks)
                {
                    console.WriteLine($"No plan mends this: {broken}.");
                }

                console.WriteLine($"Known on {SlateCommand.Date(time, now)}. Rented more: {Numbers.Exact(after.Rented - before.Rented)} {evaluation.MoneyUnit}. {(late ? "A date gives way." : "No date gives way.")} What has started keeps its start, its nodes and its pipeline.");
                console.WriteLine(running is null
                    ? "Before is a plan that was made for this answer; --running holds it against the plan that is followed."
                    : "Before is the plan that was read.");
                console.WriteLine("Found in the time given, not proven. Rest and local rules on working hours prevail.");
            },
            late || shocked.Breaks.Count > 0 ? ExitCode.No : ExitCode.Done);
    });

    private static int NowOf(Session session, Slate slate)
    {
        int week = session.Line.GetValue(Week);
        string text = week.ToString(CultureInfo.InvariantCulture);
        if (week < 0 || week >= slate.Weeks)
        {
            throw new InputException(InputProblem.Of("--week", text, $"allowed is 0 to {slate.Weeks - 1}"));
        }

        // A hold ends with its last day; from then on nobody knows whether it is still asked for.
        InputProblem[] expired = [.. slate.Projects.Where(p => p.Expires is { } last && last < slate.Starts.PlusWeeks(week)).Select(p => InputProblem.Of(
            "--week", text, $"the {p.Standing} of {p.Name} expires on {p.Expires:uuuu-MM-dd}, before it is known; make it firm, renew it or take it off the slate"))];
        return expired.Length == 0 ? week * 14 : throw new InputException(expired);
    }

    private static double? FactorOf(Session session, SlateShock shock)
    {
        double? factor = session.Line.GetValue(Factor);
        string text = factor?.ToString(CultureInfo.InvariantCulture) ?? string.Empty;
        return factor is null ? null
            : shock != SlateShock.Effects ? throw new InputException(InputProblem.Of("--factor", text, $"only --what {SlateShock.Effects.Word} has a factor"))
            : factor is >= SlateShock.LeastFactor and <= SlateShock.MostFactor ? factor
            : throw new InputException(InputProblem.Of("--factor", text, $"allowed is {SlateShock.LeastFactor.ToString(CultureInfo.InvariantCulture)} to {SlateShock.MostFactor.ToString(CultureInfo.InvariantCulture)}"));
    }
}
