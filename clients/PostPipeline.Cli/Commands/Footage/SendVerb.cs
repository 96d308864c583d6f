using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Studies.Printing;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Footage;

/// <summary><c>offload send</c>: hours by wire and by road.</summary>
internal static class SendVerb
{
    private static readonly Option<string?> Size = Given.Needed("--size", "What is sent, such as 2.87 TB.", "SIZE").Fills("bytes");
    private static readonly Option<string[]> Lines = new Option<string[]>("--line") { Description = "A line, such as 1 Gb/s; may stand several times.", HelpName = "RATE" }.Fills("wire.line_bits_per_second");
    private static readonly Option<string?> RoundTrip = Given.Text("--round-trip", "Round trip of the lines, such as 80 ms.", "TIME").Fills("wire.round_trip_milliseconds");
    private static readonly Option<string?> Loss = Given.Text("--loss", "Part of packets lost, such as 0.0001.", "PART").Fills("wire.loss");
    private static readonly Option<string?> Window = Given.Text("--window", "A flow's window, such as 4 MiB.", "SIZE").Fills("wire.window_bytes");
    private static readonly Option<int> Flows = new Option<int>("--flows") { Description = "Flows side by side.", DefaultValueFactory = _ => 1, HelpName = "N" }.Fills("wire.flows");
    private static readonly Option<string?> Drive = Given.Text("--drive", "Also a drive by road, written and read at this rate, such as 500 MB/s.", "RATE").Fills("road.write_bytes_per_second", "road.read_bytes_per_second");
    private static readonly Option<string?> Way = Given.Text("--way", "Time on the road, such as 3 h.", "TIME").Fills("road.travel_hours");

    private sealed record Row(string Way, double Hours, double BytesPerSecond, string BindingLimit, string NextLimit, Reason? Derivation);

    public static Command Create() => new Command("send", "Say how long material takes by wire and by road, and what limits it.") { Size, Lines, RoundTrip, Loss, Window, Flows, Drive, Way, Given.Explain }.Runs(async session =>
    {
        EstimateTransfersRequest request = new() { Explain = session.Line.GetValue(Given.Explain) };
        request.Items.AddRange((session.Line.GetValue(Lines) ?? []).Select(line => new TransferItem
        {
            Label = line,
            Bytes = session.Bytes(Size),
            Wire = new()
            {
                LineBitsPerSecond = Given.Rate("--line", line).ToDouble() * 8,
                RoundTripMilliseconds = session.Seconds(RoundTrip) * 1000,
                Loss = session.Fraction(Loss) is { } loss ? loss.ToDouble() : 0,
                WindowBytes = session.Bytes(Window),
                Flows = session.Line.GetValue(Flows),
            },
        }));
        if (session.Line.GetValue(Drive) is not null)
        {
            double rate = session.BytesPerSecondOrZero(Drive);
            request.Items.Add(new TransferItem { Label = "by road", Bytes = session.Bytes(Size), Road = new() { WriteBytesPerSecond = rate, ReadBytesPerSecond = rate, TravelHours = session.Seconds(Way) / 3600, Verified = true } });
        }

        OffloadService.OffloadServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).Offload;
        List<Row> rows = [];
        foreach (TransferResult result in (await client.EstimateTransfersAsync(request, cancellationToken: session.Cancellation)).Results)
        {
            Given.Refuse(result.Error, result.Label);
            rows.Add(new(result.Label, result.Transfer.Hours, result.Transfer.BytesPerSecond, result.Transfer.BindingLimit, result.Transfer.NextLimit, Reason.From(result.Transfer.Derivation)));
        }

        return session.Answer("postpipeline.offload.send/1", rows, console =>
        {
            Table table = new Table().Border(TableBorder.Simple).AddColumns("way", "takes", "over the whole way", "limit now", "next");
            foreach (Row row in rows)
            {
                table.AddRow(Markup.Escape(row.Way), Numbers.Duration(row.Hours * 3600), Numbers.Rate(row.BytesPerSecond), row.BindingLimit, row.NextLimit);
            }

            console.Write(table);
            console.WriteLine("Driving and rest rules prevail over any time on the road.");
            rows.ForEach(r => r.Derivation?.Print(console));
        });
    });
}
