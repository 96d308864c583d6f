using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Contracts.Footage.V1;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Footage;

/// <summary><c>footage takes</c>: takes cut into files.</summary>
internal static class TakesVerb
{
    private static readonly Argument<long[]> Frames = new Argument<long[]>("frames") { Description = "Frames of each take.", Arity = ArgumentArity.OneOrMore }.Fills("take_frames");
    private static readonly Option<long> FrameBytes = new Option<long>("--frame-bytes") { Description = "Bytes a frame on average.", HelpName = "N", Required = true }.Fills("bytes_per_frame");
    private static readonly Option<long> PeakBytes = new Option<long>("--peak-bytes") { Description = "Bytes of the largest frame; the average without it.", HelpName = "N" }.Fills("peak_bytes_per_frame");
    private static readonly Option<string?> Limit = Given.Text("--limit", "The largest file: a size such as 16 GB, or FAT32 or exFAT.", "SIZE").Fills("limit_bytes", "file_system");
    private static readonly Option<int> Group = new Option<int>("--group") { Description = "Frames of a group that cannot be cut.", HelpName = "N" }.Fills("frames_per_group");

    private sealed record Take(long Frames, int Files, long FramesPerFile, long LastFrames);

    private sealed record Tally(IReadOnlyList<Take> Takes, long Files, long Frames, long Bytes, Reason? Derivation);

    public static Command Create() => new Command("takes", "Cut takes into files on whole frames or group borders, and add them up.") { Frames, FrameBytes, PeakBytes, Limit, Group, Given.Explain }.Runs(async session =>
    {
        TakesItem item = new() { BytesPerFrame = session.Line.GetValue(FrameBytes), PeakBytesPerFrame = session.Line.GetValue(PeakBytes), FramesPerGroup = session.Line.GetValue(Group) };
        item.TakeFrames.AddRange(session.Line.GetValue(Frames));
        switch (session.Line.GetValue(Limit) ?? "FAT32")
        {
            case "FAT32":
                item.FileSystem = FileSystem.Fat32;
                break;
            case "exFAT":
                item.FileSystem = FileSystem.Exfat;
                break;
            case var size:
                item.LimitBytes = Given.Size("--limit", size);
                break;
        }

        FootageService.FootageServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).Footage;
        TakesResult answer = (await client.CutTakesAsync(new() { Items = { item }, Explain = session.Line.GetValue(Given.Explain) }, cancellationToken: session.Cancellation)).Results[0];
        Given.Refuse(answer.Error);
        Tally tally = new([.. answer.Tally.Takes.Select((t, i) => new Take(item.TakeFrames[i], t.Files, t.FramesPerFile, t.LastFrames))], answer.Tally.Files, answer.Tally.Frames, answer.Tally.Bytes, Reason.From(answer.Tally.Derivation));
        return session.Answer("postpipeline.footage.takes/1", tally, console =>
        {
            Table table = new Table().Border(TableBorder.Simple).AddColumns("frames", "files", "frames a file", "frames of the last");
            foreach (Take take in tally.Takes)
            {
                table.AddRow($"{take.Frames}", $"{take.Files}", $"{take.FramesPerFile}", $"{take.LastFrames}");
            }

            console.Write(table);
            console.WriteLine($"{tally.Takes.Count} takes, {tally.Files} files, {tally.Frames} frames, {tally.Bytes} B");
            tally.Derivation?.Print(console);
        });
    });
}
