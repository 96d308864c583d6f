using System.CommandLine;
using System.Globalization;
using System.Text.Json.Nodes;
using PostPipeline.Cli.Commands.Studies;
using PostPipeline.Cli.Frame;
using PostPipeline.Slates.Options;
using PostPipeline.Slates.Planning;
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
        SlateCommand.File, SlateCommand.Project, What, Factor, Week, SlateCommand.Draws, SlateCommand.Threads, SlateCommand.Seconds,
    }.Runs(async session =>
    {
        string word = session.Line.GetValue(What)!;
        SlateShock shock = SlateShock.All.FirstOrDefault(s => s.Word == word)
            ?? throw new InputException(InputProblem.Of("--what", word, $"allowed is {string.Join(", ", SlateShock.All.Select(s => s.Word))}"));
        double seconds = SlateCommand.SecondsOf(session);
        double? factor = FactorOf(session, shock);
        SlateEvaluation evaluation = await SlateCommand.EvaluateAsync(session).ConfigureAwait(false);
        int place = SlateCommand.PlaceOf(session, evaluation);
        int week = session.Line.GetValue(Week);
        if (week < 0 || week >= evaluation.Slate.Weeks)
        {
            throw new InputException(InputProblem.Of("--week", week.ToString(CultureInfo.InvariantCulture), $"allowed is 0 to {evaluation.Slate.Weeks - 1}"));
        }

        SlateProblemBuilder builder = new(evaluation);
        SlateProblem problem = builder.Build();
        int now = week * 14;
        ShockedSlate shocked = Studying.Asked("--what", word, () => shock.To(problem, evaluation, place, now, factor: factor));
        PlanSettings half = SlateCommand.Settings(seconds / 2);
        PlanAnswer first = SlatePlanner.Plan(problem, half, progress: SlateCommand.Progress(session), cancellation: session.Cancellation);
        if (first.Plan is not { } before)
        {
            return SlateCommand.NoPlan(session, first);
        }

        PlanAnswer second = RunningSlate.Replan(shocked.Problem, before, now, half, SlateCommand.Progress(session), session.Cancellation);
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

                console.WriteLine($"Known on {SlateCommand.Date(time, now)}. Rented more: {after.Rented - before.Rented} {evaluation.MoneyUnit}. {(late ? "A date gives way." : "No date gives way.")} What has started keeps its start, its nodes and its pipeline.");
                console.WriteLine("Found in the time given, not proven. Rest and local rules on working hours prevail.");
            },
            late || shocked.Breaks.Count > 0 ? ExitCode.No : ExitCode.Done);
    });

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
