using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Studies.Printing;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Footage;

/// <summary><c>footage volume</c>: a production's originals, estimated twice.</summary>
internal static class VolumeVerb
{
    private static readonly Option<int> Days = new Option<int>("--days") { Description = "Shoot days.", HelpName = "N", Required = true }.Fills("days");
    private static readonly Option<int> Cameras = new Option<int>("--cameras") { Description = "Cameras.", HelpName = "N", Required = true }.Fills("cameras");
    private static readonly Option<string?> Hours = Given.Needed("--hours", "Recorded hours of one camera and day.", "H").Fills("hours_per_camera_day");
    private static readonly Option<string?> Finished = Given.Needed("--finished", "Finished length with its unit, such as 110 min.", "TIME").Fills("finished_seconds");
    private static readonly Option<string?> Ratio = Given.Needed("--ratio", "Shooting ratio: recorded time of all cameras against finished time.", "N").Fills("shooting_ratio");
    private static readonly Option<string?> Rate = Given.Needed("--rate", "What a camera makes while recording, such as 106.16832 MB/s.", "RATE").Fills("bytes_per_second");

    private sealed record Volumes(long BytesByDays, long BytesByRatio, double ImpliedRatio, double Apart, bool Flagged, Reason? Derivation);

    public static Command Create() => new Command("volume", "Estimate a production's originals by its days and by its shooting ratio, side by side.")
    {
        Days, Cameras, Hours, Finished, Ratio, Rate, Given.Explain,
    }.Runs(async session =>
    {
        CompareVolumesRequest request = new()
        {
            Days = session.Line.GetValue(Days),
            Cameras = session.Line.GetValue(Cameras),
            HoursPerCameraDay = session.Fraction(Hours),
            FinishedSeconds = new() { Numerator = (long)Math.Round(session.Seconds(Finished) * 1000), Denominator = 1000 },
            ShootingRatio = session.Fraction(Ratio),
            BytesPerSecond = session.BytesPerSecond(Rate),
            Explain = session.Line.GetValue(Given.Explain),
        };
        FootageService.FootageServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).Footage;
        CompareVolumesResponse v = await client.CompareVolumesAsync(request, cancellationToken: session.Cancellation);
        Volumes result = new(v.BytesByDays, v.BytesByRatio, v.ImpliedRatio, v.Apart, v.Flagged, Reason.From(v.Derivation));
        return session.Answer("postpipeline.footage.volume/1", result, console =>
        {
            Table table = new Table().Border(TableBorder.Simple).AddColumns("estimate", "originals", "shooting ratio");
            table.AddRow("by days, cameras and hours", Numbers.Size(v.BytesByDays), $"{Numbers.Three(v.ImpliedRatio)}:1 implied");
            table.AddRow("by finished length and ratio", Numbers.Size(v.BytesByRatio), $"{session.Line.GetValue(Ratio)}:1 stated");
            console.Write(table);
            console.WriteLine(v.Flagged ? $"They are {Numbers.Three(v.Apart)} times apart: one of the inputs is not what the shoot will be." : "They agree within 1.5 times.");
            result.Derivation?.Print(console);
        });
    });
}
