using System.CommandLine;
using System.Globalization;
using System.Text.Json.Nodes;
using NodaTime;
using NodaTime.Text;
using PostPipeline.Cli.Frame;
using PostPipeline.Notebooks.Charts;
using PostPipeline.Slates.Files;
using PostPipeline.Slates.Options;
using PostPipeline.Slates.Planning;
using PostPipeline.Slates.Usage;
using PostPipeline.Studies.Printing;
using PostPipeline.Studies.Reforecasts;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Slates;

/// <summary><c>slate usage</c>: node-hours, TB-days and person-hours of a week by project, each with its source.</summary>
internal static class SlateUsageCommand
{
    private static readonly Option<string?> WeekOf = new("--week-of") { Description = "A day of the week, which runs from Monday to Sunday; without it the week before the slate's today, or the first week where none is over yet.", HelpName = "DATE" };
    private static readonly Option<string[]> Logs = new("--log") { Description = $"The daily log of a project, a CSV with {string.Join(", ", DailyLog.Columns)}; once a project.", HelpName = "PROJECT=CSV" };

    public static Command Create() => new Command("usage", "Who used what in a week: node-hours, TB-days and person-hours by project, measured where it was logged, else planned.")
    {
        SlateCommand.File, WeekOf, Logs, SlateCommand.Running, SlateCommand.Tables, SlateCommand.Draws, SlateCommand.Threads, SlateCommand.Seconds,
    }.Runs(async session =>
    {
        double seconds = SlateCommand.SecondsOf(session);
        Slate slate = SlateReader.ReadFile(session.Line.GetValue(SlateCommand.File)!);
        (LocalDate day, string chosen) = WeekFor(session, slate);
        Dictionary<string, IReadOnlyList<LogDay>> logs = LogsOf(session, slate);
        OutputFolder? tables = session.Line.GetValue(SlateCommand.Tables) is { } folder ? OutputFolder.Open(folder) : null;
        RunningPlanFile? running = SlateCommand.RunningOf(session);
        SlateEvaluation evaluation = await SlateCommand.EvaluateAsync(session, slate, running).ConfigureAwait(false);
        SlateProblemBuilder builder = new(evaluation);
        SlateProblem problem = builder.Build();
        SlatePlan? plan = running?.On(slate, problem);
        if (plan is null)
        {
            PlanAnswer answer = SlatePlanner.Plan(problem, SlateCommand.Settings(seconds), progress: SlateCommand.Progress(session), cancellation: session.Cancellation);
            if (answer.Plan is not { } planned)
            {
                return SlateCommand.NoPlan(session, answer);
            }

            plan = planned;
        }

        WeekUsage usage = WeekUsage.Of(problem, plan, builder.Capacities.HoursOf, day, logs, slate.People);
        tables?.Write("usage.csv", Table(usage).ToCsv());
        return session.Answer("postpipeline.slate.usage/1", Result(usage, chosen), console => Print(console, slate, usage, chosen));
    });

    // The week and how it was chosen. On the first days of a slate no week of it is over, so the first one is told as planned.
    private static (LocalDate Day, string Chosen) WeekFor(Session session, Slate slate)
    {
        string? given = session.Line.GetValue(WeekOf);
        LocalDate day = slate.Today.PlusDays(-7);
        if (given is not null && !(LocalDatePattern.Iso.Parse(given) is { Success: true } parsed && (day = parsed.Value).Year is >= 1990 and <= 2199))
        {
            throw new InputException(InputProblem.Of("--week-of", given, "a date such as 2027-03-31 is expected"));
        }

        LocalDate last = slate.Starts.PlusWeeks(slate.Weeks + SlateTime.WeeksAfter).PlusDays(-1);
        bool begun = day.PlusDays(7 - (int)day.DayOfWeek) >= slate.Starts;
        if (given is null && !begun)
        {
            return (slate.Starts, "first");
        }

        return begun && day <= last
            ? (day, given is null ? "before-today" : "given")
            : throw new InputException(InputProblem.Of(
                "--week-of",
                given ?? string.Empty,
                $"{(given is null ? $"the week before today, {slate.Today:uuuu-MM-dd}," : "this week")} lies outside the slate; type --week-of with a day from {slate.Starts:uuuu-MM-dd} to {last:uuuu-MM-dd}"));
    }

    private static Dictionary<string, IReadOnlyList<LogDay>> LogsOf(Session session, Slate slate)
    {
        Dictionary<string, IReadOnlyList<LogDay>> logs = [];
        foreach (string given in session.Line.GetValue(Logs) ?? [])
        {
            int at = given.IndexOf('=', StringComparison.Ordinal);
            if (at < 1 || at == given.Length - 1)
            {
                throw new InputException(InputProblem.Of("--log", given, "expected is PROJECT=CSV, such as Alder=alder.csv"));
            }

            string name = given[..at];
            if (slate.Projects.FirstOrDefault(p => p.Name == name) is not { } entry)
            {
                throw new InputException(InputProblem.Of("--log", given, $"no project is named '{name}'; allowed is {string.Join(", ", slate.Projects.Select(p => p.Name))}"));
            }

            if (!logs.TryAdd(name, DailyLog.ReadFile(given[(at + 1)..], entry.Brief)))
            {
                throw new InputException(InputProblem.Of("--log", given, $"the log of '{name}' is given twice; one file a project is expected"));
            }
        }

        return logs;
    }

    private static string Unit(UsageKind kind) => kind switch { UsageKind.NodeHours => "node-hours", UsageKind.TbDays => "TB-days", _ => "person-hours" };

    private static string Source(UsageBasis basis) => basis.ToString().ToLowerInvariant();

    private static NumberTable Table(WeekUsage usage) => new(
        "Usage",
        ["from", "until", "project", "unit", "of", "source", "amount", "days"],
        [.. usage.Rows.Select(IReadOnlyList<object?> (r) => [usage.From.ToDateOnly(), usage.Until.ToDateOnly(), r.Project, Unit(r.Kind), r.Of, Source(r.Basis), Math.Round(r.Amount, 6), r.Days])]);

    private static JsonObject Result(WeekUsage usage, string chosen) => new()
    {
        ["from"] = usage.From.ToString("uuuu-MM-dd", CultureInfo.InvariantCulture),
        ["until"] = usage.Until.ToString("uuuu-MM-dd", CultureInfo.InvariantCulture),
        ["chosen"] = chosen,
        ["used"] = new JsonArray([.. usage.Rows.Select(r => (JsonNode)new JsonObject
        {
            ["project"] = r.Project,
            ["unit"] = Unit(r.Kind),
            ["of"] = r.Of,
            ["source"] = Source(r.Basis),
            ["amount"] = Math.Round(r.Amount, 6),
            ["days"] = r.Days,
        })]),
        ["there_was"] = new JsonArray([.. usage.Supply.Select(s => (JsonNode)new JsonObject { ["unit"] = Unit(s.Kind), ["of"] = s.Of, ["amount"] = Math.Round(s.Amount, 6) })]),
    };

    private static void Print(IAnsiConsole console, Slate slate, WeekUsage usage, string chosen)
    {
        console.WriteLine($"Used from {usage.From:uuuu-MM-dd} to {usage.Until:uuuu-MM-dd}:");
        if (chosen != "given")
        {
            console.WriteLine(chosen == "first"
                ? $"(No week of the slate is over by today, {slate.Today:uuuu-MM-dd}, so this is its first; --week-of names another.)"
                : $"(The week before today, {slate.Today:uuuu-MM-dd}; --week-of names another.)");
        }

        Table table = new Table().Border(TableBorder.Simple).AddColumns("project", "node-hours", "TB-days", "person-hours");
        foreach (string project in slate.Projects.Select(p => p.Name))
        {
            string Cell(UsageKind kind) => usage.Rows.Where(r => r.Project == project && r.Kind == kind).GroupBy(r => r.Basis).OrderBy(g => g.Key)
                .Select(g => $"{Numbers.Three(g.Sum(r => r.Amount))} {Source(g.Key)}").ToList() is { Count: > 0 } parts ? string.Join(" + ", parts) : "0";
            table.AddRow(Markup.Escape(project), Cell(UsageKind.NodeHours), Cell(UsageKind.TbDays), Cell(UsageKind.PersonHours));
        }

        console.Write(table);
        console.WriteLine($"There was: {string.Join(", ", usage.Supply.Select(s => $"{Numbers.Three(s.Amount)} {Unit(s.Kind)} of {s.Of}"))}.");
        console.WriteLine("Measured is what a daily log says; a day that it is silent about is as planned. Nobody logs people: their hours are the plan's, or days booked for the project by name.");
        console.WriteLine($"Planned at {slate.Level}: planned node-hours are nodes held in open hours, measured ones are what frames took.");
    }
}
