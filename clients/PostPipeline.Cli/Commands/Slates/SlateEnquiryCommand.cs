using System.CommandLine;
using System.Text.Json.Nodes;
using PostPipeline.Cli.Commands.Studies;
using PostPipeline.Cli.Frame;
using PostPipeline.Slates.Enquiries;
using PostPipeline.Slates.Files;
using PostPipeline.Slates.Options;
using PostPipeline.Slates.Planning;
using PostPipeline.Studies.Printing;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Slates;

/// <summary><c>slate enquiry</c>: whether a project can be taken beside the others of its slate.</summary>
internal static class SlateEnquiryCommand
{
    /// <summary>Can a project be taken? It is written in the slate; the others are planned without it, then with it.</summary>
    public static Command Create() => new Command("enquiry", "Can this project of the slate be taken beside the others, at what price, and whose date gives way?")
    {
        SlateCommand.File, SlateCommand.Project, SlateCommand.Running, SlateCommand.Draws, SlateCommand.Threads, SlateCommand.Seconds,
    }.Runs(async session =>
    {
        double seconds = SlateCommand.SecondsOf(session);
        Slate slate = SlateReader.ReadFile(session.Line.GetValue(SlateCommand.File)!);
        int place = SlateCommand.PlaceOf(session, slate);
        if (slate.Projects.Count == 1)
        {
            throw new InputException(InputProblem.Of("--project", slate.Projects[0].Name, "it is the only project of the slate; an enquiry needs others to stand beside"));
        }

        RunningPlanFile? file = SlateCommand.RunningOf(session);
        SlateEvaluation evaluation = await SlateCommand.EvaluateAsync(session, slate, file).ConfigureAwait(false);
        SlateProblem all = new SlateProblemBuilder(evaluation).Build();
        SlateProject enquiry = all.Projects[place];
        SlatePlan? running = file?.On(slate, all, enquiry.Name);
        int now = SlateCommand.Now(slate, all);
        EnquiryAnswer answer = SlateEnquiry.Ask(
            all with { Projects = [.. all.Projects.Where(p => p != enquiry)] }, enquiry, SlateCommand.Settings(seconds), running, now, progress: SlateCommand.Progress(session), cancellation: session.Cancellation);
        string verdict = Word(answer.Verdict);
        session.Note("… which unknown to ask about first");
        RankedEnquiry ranked = EnquiryUnknowns.Rank(
            evaluation, place, answer, SlateCommand.Settings(seconds), Studying.ThreadsOf(session, SlateCommand.Threads), running is null ? null : now, SlateCommand.Log(session), session.Cancellation);
        return session.Answer(
            "postpipeline.slate.enquiry/1",
            new JsonObject
            {
                ["project"] = enquiry.Name,
                ["verdict"] = verdict,
                ["before"] = SlateCommand.Before(file),
                ["pipeline"] = answer.With?.Of(enquiry.Name).Pipeline,
                ["price"] = answer.Price,
                ["rented_more"] = answer.Extras,
                ["dates"] = new JsonArray([.. answer.Dates.Select(d => (JsonNode)new JsonObject { ["project"] = d.Project, ["late_half_days_before"] = d.LateBefore, ["late_half_days_after"] = d.LateAfter })]),
                ["pipelines"] = new JsonArray([.. answer.Pipelines.Select(p => (JsonNode)new JsonObject { ["project"] = p.Project, ["from"] = p.From, ["to"] = p.To, ["money"] = p.Money })]),
                ["stages_that_move"] = new JsonArray([.. Moves(answer).Select(m => (JsonNode)new JsonObject { ["project"] = m.Project, ["stages"] = new JsonArray([.. m.Stages.Select(s => (JsonNode)s)]) })]),
                ["ask_first"] = new JsonArray([.. ranked.Ask.Select(u => (JsonNode)new JsonObject
                {
                    ["input"] = u.Input,
                    ["unit"] = u.Unit,
                    ["low"] = At(u.Low),
                    ["high"] = At(u.High),
                    ["known"] = u.Known,
                    ["who_knows"] = u.WhoKnows,
                })]),
                ["unknowns"] = new JsonObject { ["uncertain"] = ranked.Uncertain, ["moving"] = ranked.Moving, ["planned_with"] = ranked.Planned, ["price_noise"] = ranked.PriceNoise, ["late_noise_half_days"] = ranked.LateNoise },
                ["obstacles"] = new JsonArray([.. answer.Obstacles.Select(o => (JsonNode)o)]),
            },
            console =>
            {
                console.WriteLine($"{enquiry.Name}: {verdict}{(answer.With is { } with ? $", on {with.Of(enquiry.Name).Pipeline}" : string.Empty)}.");
                if (answer.With is not null)
                {
                    console.WriteLine($"Price on top of its own pipeline: {Numbers.Three(answer.Price)} {evaluation.MoneyUnit}, of it rented: {Numbers.Three(answer.Extras)}.");
                }

                foreach (DateChange d in answer.Dates)
                {
                    console.WriteLine($"{d.Project} would be {d.LateAfter} half-days late; without {enquiry.Name} {d.LateBefore}.");
                }

                foreach (PipelineChange p in answer.Pipelines)
                {
                    console.WriteLine($"{p.Project} takes {p.To} instead of {p.From}.");
                }

                foreach ((string project, IReadOnlyList<string> stages) in Moves(answer))
                {
                    console.WriteLine($"{project} moves: {string.Join(", ", stages)}.");
                }

                foreach (string obstacle in answer.Obstacles)
                {
                    console.WriteLine(obstacle);
                }

                Print(console, ranked);
                console.WriteLine(running is null
                    ? "The others are on a plan that was made for this answer; --running holds it against the plan that is followed."
                    : $"The others are on the plan that was read; what has started by {SlateCommand.Date(new SlateTime(slate), now)} stays.");
                console.WriteLine($"Planned at {evaluation.Slate.Level}, found in the time given, not proven.");
            },
            answer.Verdict is EnquiryVerdict.Yes or EnquiryVerdict.AtAPrice ? ExitCode.Done : ExitCode.No);
    });

    // What other projects do at another time because of the enquiry.
    private static IEnumerable<(string Project, IReadOnlyList<string> Stages)> Moves(EnquiryAnswer answer) => answer is { With: { } with, Without: { } without }
        ? without.Projects.Select(p => (p.Project, with.Moved(without, p.Project))).Where(m => m.Item2.Count > 0)
        : [];

    private static string Word(EnquiryVerdict verdict) => verdict switch
    {
        EnquiryVerdict.Yes => "yes",
        EnquiryVerdict.AtAPrice => "at a price",
        EnquiryVerdict.OnlyIfDatesGiveWay => "only if dates give way",
        _ => "no",
    };

    private static JsonObject At(EnquiryAt at) => new()
    {
        ["value"] = Math.Round(at.Value, 6),
        ["verdict"] = Word(at.Verdict),
        ["price"] = at.Price,
        ["late_half_days"] = at.LateHalfDays,
        ["gives_way"] = new JsonArray([.. at.GivesWay.Select(g => (JsonNode)g)]),
        ["pipeline"] = at.Pipeline,
    };

    private static void Print(IAnsiConsole console, RankedEnquiry ranked)
    {
        console.WriteLine(ranked.Ask.Count == 0
            ? $"Ask first: no unknown of its brief alone changes the answer, as far as short plans with {ranked.Planned} of {ranked.Uncertain} show."
            : "Ask first:");
        foreach (EnquiryUnknown u in ranked.Ask.Take(5))
        {
            console.WriteLine($"  {u.Input} ({u.Known} now; ask {u.WhoKnows}): at {Studying.Amount(u.Low.Value, u.Unit)} {Says(u.Low)}; at {Studying.Amount(u.High.Value, u.Unit)} {Says(u.High)}.");
        }

        console.WriteLine($"  Each unknown alone at its P10 and P90, planned again for a short while: of {ranked.Uncertain}, {ranked.Moving} move any work, and {ranked.Planned} were planned with. What could turn the answer, not how likely it is to.");
    }

    private static string Says(EnquiryAt at) =>
        Word(at.Verdict)
        + (at.Price != 0 ? $", for {Numbers.Three(at.Price)}" : string.Empty)
        + (at.LateHalfDays > 0 ? $" ({string.Join(", ", at.GivesWay)} by {at.LateHalfDays} half-days in all)" : string.Empty)
        + (at.Pipeline is { } pipeline ? $", on {pipeline}" : string.Empty);
}
