using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Studies.Printing;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Footage;

/// <summary><c>storage disks</c>: what can be planned from raw disks.</summary>
internal static class DisksVerb
{
    private static readonly Option<int> Drives = new Option<int>("--drives") { Description = "All drives.", HelpName = "N", Required = true }.Fills("drives");
    private static readonly Option<string?> Drive = Given.Needed("--drive", "Size of one, such as 20 TB.", "SIZE").Fills("drive_bytes");
    private static readonly Option<int> Data = new Option<int>("--data-drives") { Description = "Data drives of a group.", DefaultValueFactory = _ => 8, HelpName = "N" }.Fills("data_drives");
    private static readonly Option<int> Parity = new Option<int>("--parity-drives") { Description = "Parity drives of a group.", DefaultValueFactory = _ => 2, HelpName = "N" }.Fills("parity_drives");
    private static readonly Option<int> Spares = new Option<int>("--spare-drives") { Description = "Drives kept aside.", HelpName = "N" }.Fills("spare_drives");
    private static readonly Option<string?> Rebuild = Given.Text("--rebuild", "What the array gives to a rebuild, such as 150 MB/s.", "RATE").Fills("rebuild_bytes_per_second");

    private sealed record Plan(int Groups, long RawBytes, long UsableBytes, long PlannableBytes, double PlannableTebibytes, double CostFactor, double RebuildHours, Reason? Derivation);

    public static Command Create() => new Command("disks", "Say what a plan may fill of raw disks: groups, parity, spares, a fifth kept free.") { Drives, Drive, Data, Parity, Spares, Rebuild, Given.Explain }.Runs(async session =>
    {
        DiskItem item = new()
        {
            Drives = session.Line.GetValue(Drives),
            DriveBytes = session.Bytes(Drive),
            DataDrives = session.Line.GetValue(Data),
            ParityDrives = session.Line.GetValue(Parity),
            SpareDrives = session.Line.GetValue(Spares),
            RebuildBytesPerSecond = session.BytesPerSecondOrZero(Rebuild),
        };
        StorageService.StorageServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).Storage;
        DiskPlanResult answer = (await client.PlanDisksAsync(new() { Items = { item }, Explain = session.Line.GetValue(Given.Explain) }, cancellationToken: session.Cancellation)).Results[0];
        Given.Refuse(answer.Error);
        DiskPlan p = answer.Plan;
        Plan plan = new(p.Groups, p.RawBytes, p.UsableBytes, p.PlannableBytes, p.PlannableBytes / (double)(1L << 40), p.CostFactor, p.RebuildHours, Reason.From(p.Derivation));
        return session.Answer("postpipeline.storage.disks/1", plan, console =>
        {
            Table table = new Table().Border(TableBorder.Simple).AddColumns("what", "value");
            table.AddRow("groups", $"{plan.Groups}");
            table.AddRow("raw", Numbers.Size(plan.RawBytes));
            table.AddRow("usable", Numbers.Size(plan.UsableBytes));
            table.AddRow("a plan may fill", Printed.BothUnits(plan.PlannableBytes));
            table.AddRow("raw for each usable", Numbers.Three(plan.CostFactor));
            table.AddRow("rebuild of one drive", plan.RebuildHours == 0 ? "rate not given" : Numbers.Duration(plan.RebuildHours * 3600));
            console.Write(table);
            console.WriteLine("A redundant array is not a copy.");
            plan.Derivation?.Print(console);
        });
    });
}
