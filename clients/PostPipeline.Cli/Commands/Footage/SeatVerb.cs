using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Studies.Printing;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Footage;

/// <summary><c>storage seat</c>: whether a workstation can cut originals.</summary>
internal static class SeatVerb
{
    private static readonly Option<int> Layers = new Option<int>("--layers") { Description = "Layers or angles that play at once.", DefaultValueFactory = _ => 1, HelpName = "N" }.Fills("layers");
    private static readonly Option<string?> Rate = Given.Needed("--rate", "Frames a second of the timeline, exact.", "RATE").Fills("rate");
    private static readonly Option<double?> Measured = new Option<double?>("--measured") { Description = "Frames a second decoded on such a workstation, measured.", HelpName = "N" }.Fills("measured_frames_per_second");
    private static readonly Option<string?> FrameSize = Given.Text("--decoded-frame", "Size of one decoded frame, such as 53.08416 MB.", "SIZE").Fills("decoded_frame_bytes");
    private static readonly Option<int> Ready = new Option<int>("--frames-ready") { Description = "Decoded frames kept ready for each layer.", HelpName = "N" }.Fills("frames_ready");
    private static readonly Option<string?> Memory = Given.Text("--memory", "Memory for them, such as 16 GiB.", "SIZE").Fills("memory_bytes");

    private sealed record Seat(string Verdict, double NeededFramesPerSecond, double Reserve, long MemoryBytes, Reason? Derivation);

    public static Command Create() => new Command("seat", "Hold what a seat must decode against what was measured.") { Layers, Rate, Measured, FrameSize, Ready, Memory, Given.Explain }.Runs(async session =>
    {
        SeatItem item = new()
        {
            Layers = session.Line.GetValue(Layers),
            Rate = session.Frames(Rate),
            DecodedFrameBytes = session.Bytes(FrameSize),
            FramesReady = session.Line.GetValue(Ready),
            MemoryBytes = session.Bytes(Memory),
        };
        if (session.Line.GetValue(Measured) is { } measured)
        {
            item.MeasuredFramesPerSecond = measured;
        }

        StorageService.StorageServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).Storage;
        SeatCheckResult answer = (await client.CheckSeatsAsync(new() { Items = { item }, Explain = session.Line.GetValue(Given.Explain) }, cancellationToken: session.Cancellation)).Results[0];
        Given.Refuse(answer.Error);
        SeatCheck c = answer.Check;
        string verdict = c.Verdict switch { SeatVerdict.Comfortable => "comfortable", SeatVerdict.Tight => "tight", SeatVerdict.Fails => "fails", _ => "not measured" };
        Seat seat = new(verdict, c.NeededFramesPerSecond, c.Reserve, c.MemoryBytes, Reason.From(c.Derivation));
        return session.Answer(
            "postpipeline.storage.seat/1",
            seat,
            console =>
            {
                console.WriteLine($"{seat.Verdict}: needs {Numbers.Three(seat.NeededFramesPerSecond)} frames a second{(seat.Reserve > 0 ? $", measured {Numbers.Three(seat.Reserve)} times that" : string.Empty)}{(seat.MemoryBytes > 0 ? $"; {Numbers.Size(seat.MemoryBytes)} of decoded frames" : string.Empty)}.");
                seat.Derivation?.Print(console);
            },
            c.Verdict == SeatVerdict.Fails ? ExitCode.No : ExitCode.Done);
    });
}
