using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Contracts.Footage.V1;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Footage;

/// <summary><c>storage power</c>: load and heat of a room.</summary>
internal static class PowerVerb
{
    private static readonly Option<double> Watts = new Option<double>("--watts") { Description = "Load in watts, measured maxima rather than labels.", HelpName = "N", Required = true }.Fills("watts");
    private static readonly Option<int> Volts = new Option<int>("--volts") { Description = "Supply in volts, single phase.", HelpName = "N", Required = true }.Fills("volts");

    private sealed record Load(double HeatBtuPerHour, double AmperesAtUnity, double Amperes, double CircuitAmperes, string Caution, Reason? Derivation);

    public static Command Create() => new Command("power", "Say the heat and the current of a room, indicative only.") { Watts, Volts, Given.Explain }.Runs(async session =>
    {
        StorageService.StorageServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).Storage;
        PowerItem item = new() { Watts = session.Line.GetValue(Watts), Volts = session.Line.GetValue(Volts) };
        PowerEstimateResult answer = (await client.EstimatePowerAsync(new() { Items = { item }, Explain = session.Line.GetValue(Given.Explain) }, cancellationToken: session.Cancellation)).Results[0];
        Given.Refuse(answer.Error);
        PowerEstimate e = answer.Estimate;
        Load load = new(e.HeatBtuPerHour, e.AmperesAtUnity, e.Amperes, e.CircuitAmperes, e.Caution, Reason.From(e.Derivation));
        return session.Answer("postpipeline.storage.power/1", load, console =>
        {
            Table table = new Table().Border(TableBorder.Simple).AddColumns("what", "value");
            table.AddRow("heat", $"{load.HeatBtuPerHour:0} BTU/h");
            table.AddRow("current at a power factor of 1", $"{load.AmperesAtUnity:0.0} A");
            table.AddRow("current at the power factor", $"{load.Amperes:0.0} A");
            table.AddRow("circuit rating for a continuous load", $"{load.CircuitAmperes:0.0} A");
            console.Write(table);
            console.WriteLine(load.Caution);
            load.Derivation?.Print(console);
        });
    });
}
