using System.CommandLine;
using System.Text.Json.Nodes;
using PostPipeline.Cli.Frame;
using PostPipeline.Studies;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.WhatIfs;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Studies;

/// <summary><c>tipping</c>: where the preferred pipeline changes along an input.</summary>
internal static class TippingCommand
{
    private static readonly Argument<string> File = Studying.BriefFile();
    private static readonly Option<int> Draws = Studying.Draws(1000);
    private static readonly Option<int> Threads = Studying.Threads();

    private static readonly Option<string> Along = new("--along")
    {
        Description = "INPUT=from:to, with units as in a brief.",
        HelpName = "RANGE",
        Required = true,
    };

    private static readonly Option<double> Parts = new("--parts")
    {
        Description = "How exactly: the range divided by this many parts.",
        DefaultValueFactory = _ => 1000,
        HelpName = "N",
    };

    public static Command Create() => new Command("tipping", "Find where the preferred pipeline changes along an input.") { File, Along, Parts, Draws, Threads }.Runs(async session =>
    {
        int draws = Studying.DrawsOf(session, Draws);
        int threads = Studying.ThreadsOf(session, Threads);
        double parts = session.Line.GetValue(Parts);
        if (parts is not (>= 10 and <= 1e7))
        {
            throw new InputException(InputProblem.Of("--parts", $"{parts}", "allowed is 10 to 10,000,000"));
        }

        Brief brief = BriefReader.ReadFile(session.Line.GetValue(File)!);
        StudyModel model = await Studying.ModelAsync(session, brief).ConfigureAwait(false);
        string along = session.Line.GetValue(Along)!;
        SweepAxis axis = Studying.Asked("--along", along, () => SweepAxis.ParseRange(model, along));
        (double from, double to) = (axis.Values[0], axis.Values[^1]);
        string unit = model.Inputs.Inputs[model.Inputs.PlaceOf(axis.Input)].Unit;
        IReadOnlyList<TippingValue> found = Tipping.Find(model, axis.Input, from, to, (to - from) / parts, draws, threads, session.Cancellation);
        return session.Answer(
            "postpipeline.tipping/1",
            new JsonObject
            {
                ["input"] = axis.Input,
                ["unit"] = unit,
                ["from"] = from,
                ["to"] = to,
                ["precision"] = (to - from) / parts,
                ["tipping_values"] = new JsonArray([.. found.Select(t => (JsonNode)new JsonObject
                {
                    ["value"] = t.Value,
                    ["below"] = t.Below,
                    ["above"] = t.Above,
                    ["open_from"] = t.OpenFrom,
                    ["open_to"] = t.OpenTo,
                })]),
            },
            console =>
            {
                foreach (TippingValue t in found)
                {
                    console.WriteLine($"{axis.Input} = {Studying.Amount(t.Value, unit)}: {t.Below} below, {t.Above} above; {draws} draws leave open {Studying.Amount(t.OpenFrom, unit)} to {Studying.Amount(t.OpenTo, unit)}");
                }

                if (found.Count == 0)
                {
                    console.WriteLine($"Between {Studying.Amount(from, unit)} and {Studying.Amount(to, unit)} the preferred pipeline does not change.");
                }
            });
    });
}
