using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Client;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Studies.Printing;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Footage;

/// <summary><c>footage modes</c>: what cameras make that record in several modes a day.</summary>
internal static class ModesVerb
{
    private static readonly Argument<string> Sheet = new("modes")
    {
        Description = "Comma-separated modes: camera,coding,raster,sensor_rate,recorded[,project_rate][,audio]. Recorded as 1:30:00 or seconds.",
    };

    private sealed record Camera(string Name, long Bytes, long Frames, IReadOnlyList<long> ModeBytes, Reason? Derivation);

    private sealed record Day(long Bytes, IReadOnlyList<Camera> Cameras);

    public static Command Create() => new Command("modes", "Add up what cameras make that record in several modes a day.") { Sheet, ModeOptions.OwnCodings, Given.Explain }.Runs(async session =>
    {
        SheetFile sheet = await SheetFile.ReadAsync(
            session.Line.GetValue(Sheet)!, ["camera", "coding", "raster", "sensor_rate", "recorded"],
            ["camera", "coding", "raster", "sensor_rate", "recorded", "project_rate", "audio"], session.Cancellation).ConfigureAwait(false);
        SumModesRequest request = new() { Explain = session.Line.GetValue(Given.Explain), OwnCodings = await session.OwnCodingsAsync(ModeOptions.OwnCodings).ConfigureAwait(false) };
        List<(int Line, string Camera, ModeTime? Mode)> rows = [.. sheet.Rows().Select(line => (line, sheet.Text("camera"), sheet.Read(() => new ModeTime
        {
            Mode = ModeOptions.Item(sheet.Text("coding"), sheet.Text("raster"), sheet.Text("sensor_rate"), sheet.Text("project_rate"), sheet.Count("audio", 0)),
            RecordSeconds = new() { Numerator = (long)Math.Round(sheet.Clock("recorded") * 1000), Denominator = 1000 },
        })))];
        sheet.ThrowIfAny();
        IGrouping<string, (int Line, string Camera, ModeTime? Mode)>[] byCamera = [.. rows.GroupBy(r => r.Camera)];
        foreach (IGrouping<string, (int Line, string Camera, ModeTime? Mode)> camera in byCamera)
        {
            CameraModes item = new() { Label = camera.Key };
            item.Modes.AddRange(camera.Select(r => r.Mode));
            request.Items.Add(item);
        }

        FootageService.FootageServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).Footage;
        SumModesResponse response = await client.SumModesAsync(request, cancellationToken: session.Cancellation);
        List<Camera> cameras = [];
        foreach ((ModesResult result, IGrouping<string, (int Line, string Camera, ModeTime? Mode)> camera) in response.Results.Zip(byCamera))
        {
            if (result.Error is { } error && ItemPlace.In("modes", error.Field) is { } mode)
            {
                throw new InputException(sheet.Refused(camera.ElementAt(mode.Index).Line, mode.Rest, error.Description));
            }

            Given.Refuse(result.Error, camera.Key);
            cameras.Add(new(result.Label, result.Total.Bytes, result.Total.Frames, [.. result.Total.ModeBytes], Reason.From(result.Total.Derivation)));
        }

        Day day = new(response.Bytes, cameras);
        return session.Answer("postpipeline.footage.modes/1", day, console =>
        {
            Table table = new Table().Border(TableBorder.Simple).AddColumns("camera", "bytes", "frames", "by mode");
            foreach (Camera camera in cameras)
            {
                table.AddRow(Markup.Escape(camera.Name), Numbers.Size(camera.Bytes), $"{camera.Frames}", string.Join(", ", camera.ModeBytes.Select(bytes => Numbers.Size(bytes))));
            }

            console.Write(table);
            console.WriteLine($"All cameras: {Numbers.Size(day.Bytes)}");
            cameras.ForEach(c => c.Derivation?.Print(console));
        });
    });
}
