using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Contracts;
using Spectre.Console;

namespace PostPipeline.Cli.Commands;

/// <summary><c>about</c>: versions, and whether the services answer.</summary>
internal static class AboutCommand
{
    private sealed record About(string Engine, string Contract, IReadOnlyList<string> Services);

    public static Command Create() => new Command("about", "Say which versions run, and whether the services answer.").Runs(async session =>
    {
        await session.ClientsAsync().ConfigureAwait(false);
        About about = new(Wire.EngineVersion, Wire.ContractVersion, ["timecode", "footage", "rendering"]);
        return session.Answer("postpipeline.about/1", about, console =>
        {
            Table table = new Table().Border(TableBorder.Simple).AddColumns("what", "value");
            table.AddRow("engine", about.Engine).AddRow("contract", about.Contract).AddRow("services", string.Join(", ", about.Services));
            console.Write(table);
        });
    });
}
