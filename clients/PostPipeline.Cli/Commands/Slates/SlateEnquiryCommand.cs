using System.CommandLine;
using System.Text.Json.Nodes;
using PostPipeline.Cli.Frame;
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
        SlateCommand.File, SlateCommand.Project, SlateCommand.Draws, SlateCommand.Threads, SlateCommand.Seconds,
    }.Runs(async session =>
    {
        double seconds = SlateCommand.SecondsOf(session);
        SlateEvaluation evaluation = await SlateCommand.EvaluateAsync(session).ConfigureAwait(false);
        int place = SlateCommand.PlaceOf(session, evaluation);
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

                foreach (string obstacle in answer.Obstacles)
                {
                    console.WriteLine(obstacle);
                }

                console.WriteLine($"Planned at {evaluation.Slate.Level}, found in the time given, not proven.");
            },
            answer.Verdict is EnquiryVerdict.Yes or EnquiryVerdict.AtAPrice ? ExitCode.Done : ExitCode.No);
    });
}
