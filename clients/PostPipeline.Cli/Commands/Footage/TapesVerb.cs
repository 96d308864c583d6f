using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Contracts.Types.V1;
using PostPipeline.Studies.Printing;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Footage;

/// <summary><c>offload tapes</c>: cartridges and drive hours.</summary>
internal static class TapesVerb
{
    private static readonly Option<string?> Size = Given.Needed("--size", "The volume, such as 71.66 TB.", "SIZE").Fills("bytes");
    private static readonly Option<string?> Other = Given.Text("--other", "Other material as a part of it, such as 0.15.", "PART").Fills("other_part");
    private static readonly Option<int> Generation = new Option<int>("--generation") { Description = "Generation of linear tape, 5 to 10.", HelpName = "N", Required = true }.Fills("generation");
    private static readonly Option<string?> Rate = Given.Text("--rate", "What a drive writes in practice, such as 300 MB/s; three quarters of the native rate without it.", "RATE").Fills("drive_bytes_per_second");
    private static readonly Option<int> Sets = new Option<int>("--sets") { Description = "Sets that go to different places.", DefaultValueFactory = _ => 2, HelpName = "N" }.Fills("sets");
    private static readonly Option<int> Drives = new Option<int>("--drives") { Description = "Drives side by side.", DefaultValueFactory = _ => 1, HelpName = "N" }.Fills("drives");
    private static readonly Option<bool> New = new("--calibrate") { Description = "Every cartridge is new and needs its first load's calibration." };
    private static readonly Option<int> ReadBack = new Option<int>("--read-back") { Description = "Generation of the drive that will read it later.", HelpName = "N" }.Fills("read_back_generation");

    private sealed record Plan(long Bytes, double CartridgesExact, long CartridgesPerSet, long Cartridges, double DriveHours, double ClockHours, string ReadBack, string Source, IReadOnlyList<string> Margins, Reason? Derivation);

    public static Command Create() => new Command("tapes", "Count cartridges and drive hours, with a verify pass and sets for different places.") { Size, Other, Generation, Rate, Sets, Drives, New, ReadBack, Given.Explain }.Runs(async session =>
    {
        TapeItem item = new()
        {
            Bytes = session.Bytes(Size),
            OtherPart = session.Fraction(Other),
            Generation = session.Line.GetValue(Generation),
            DriveBytesPerSecond = session.BytesPerSecondOrZero(Rate),
            Sets = session.Line.GetValue(Sets),
            Drives = session.Line.GetValue(Drives),
            Calibrate = session.Line.GetValue(New),
            ReadBackGeneration = session.Line.GetValue(ReadBack),
        };
        OffloadService.OffloadServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).Offload;
        TapePlanResult answer = (await client.PlanTapesAsync(new() { Items = { item }, Explain = session.Line.GetValue(Given.Explain) }, cancellationToken: session.Cancellation)).Results[0];
        Given.Refuse(answer.Error);
        TapePlan p = answer.Plan;
        string readBack = p.ReadBack switch { Verdict.Pass => "yes", Verdict.Fail => "no", _ => "not asked" };
        Plan plan = new(p.Bytes, p.CartridgesExact, p.CartridgesPerSet, p.Cartridges, p.DriveHours, p.ClockHours, readBack, p.Source, [.. p.Margins], Reason.From(p.Derivation));
        return session.Answer(
            "postpipeline.offload.tapes/1",
            plan,
            console =>
            {
                Table table = new Table().Border(TableBorder.Simple).AddColumns("what", "value");
                table.AddRow("volume with other material", Numbers.Size(plan.Bytes));
                table.AddRow("cartridges a set", $"{plan.CartridgesExact:0.00} → {plan.CartridgesPerSet}");
                table.AddRow("cartridges of all sets", $"{plan.Cartridges}");
                table.AddRow("drive hours with verify", Numbers.Three(plan.DriveHours));
                table.AddRow("on the clock", Numbers.Duration(plan.ClockHours * 3600));
                table.AddRow("the later drive reads them", plan.ReadBack);
                table.AddRow("margins", string.Join(", ", plan.Margins));
                console.Write(table);
                console.WriteLine(plan.Source);
                plan.Derivation?.Print(console);
            },
            p.ReadBack == Verdict.Fail ? ExitCode.No : ExitCode.Done);
    });
}
