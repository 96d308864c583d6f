using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Contracts.Footage.V1;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Footage;

/// <summary><c>storage streams</c>: streams that links and arrays carry.</summary>
internal static class StreamsVerb
{
    private static readonly Option<string?> Stream = Given.Needed("--stream", "One stream, such as 106.16832 MB/s.", "RATE").Fills("stream_bytes_per_second");
    private static readonly Option<string[]> Lines = new Option<string[]>("--line") { Description = "An Ethernet line, such as 10 Gb/s; may stand several times.", HelpName = "RATE" }.Fills("line_bits_per_second");
    private static readonly Option<string[]> Arrays = new Option<string[]>("--array") { Description = "What an array was measured to give to so many readers at once, such as 2 GB/s.", HelpName = "RATE" }.Fills("array_bytes_per_second");
    private static readonly Option<int> Mtu = new Option<int>("--mtu") { Description = "Bytes that a frame carries.", DefaultValueFactory = _ => 1500, HelpName = "N" }.Fills("mtu");

    private sealed record Row(string Carrier, long Plannable, long Physical, double PlannableExact, double PhysicalExact, bool Tight, Reason? Derivation);

    public static Command Create() => new Command("streams", "Count the streams that links and arrays carry: plannable, and physical.") { Stream, Lines, Arrays, Mtu, Given.Explain }.Runs(async session =>
    {
        CountStreamsRequest request = new() { Explain = session.Line.GetValue(Given.Explain) };
        Contracts.Types.V1.Rational stream = session.BytesPerSecond(Stream);
        request.Items.AddRange((session.Line.GetValue(Lines) ?? []).Select(line => new StreamItem
        {
            Label = line,
            StreamBytesPerSecond = stream,
            LineBitsPerSecond = (long)(Given.Rate("--line", line).ToDouble() * 8),
            Mtu = session.Line.GetValue(Mtu),
        }));
        request.Items.AddRange((session.Line.GetValue(Arrays) ?? []).Select(array => new StreamItem
        {
            Label = $"array of {array}",
            StreamBytesPerSecond = stream,
            ArrayBytesPerSecond = (long)Given.Rate("--array", array).ToDouble(),
        }));
        StorageService.StorageServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).Storage;
        List<Row> rows = [];
        foreach (StreamCountResult result in (await client.CountStreamsAsync(request, cancellationToken: session.Cancellation)).Results)
        {
            Given.Refuse(result.Error, result.Label);
            rows.Add(new(result.Label, result.Count.Plannable, result.Count.Physical, result.Count.PlannableExact, result.Count.PhysicalExact, result.Count.Tight, Reason.From(result.Count.Derivation)));
        }

        return session.Answer("postpipeline.storage.streams/1", rows, console =>
        {
            Table table = new Table().Border(TableBorder.Simple).AddColumns("carrier", "plannable", "physical", "");
            foreach (Row row in rows)
            {
                table.AddRow(Markup.Escape(row.Carrier), $"{row.Plannable} ({row.PlannableExact:0.00})", $"{row.Physical} ({row.PhysicalExact:0.00})", row.Tight ? "tight" : string.Empty);
            }

            console.Write(table);
            rows.ForEach(r => r.Derivation?.Print(console));
        });
    });
}
