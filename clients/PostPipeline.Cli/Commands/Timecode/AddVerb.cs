using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Client;
using PostPipeline.Contracts.Timecodes.V1;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Timecode;

/// <summary><c>timecode add</c>: labels so many frames later or earlier.</summary>
internal static class AddVerb
{
    private static readonly Option<long> Frames = new("--frames")
    {
        Description = "Frames to add; negative to subtract.",
        Required = true,
        HelpName = "N",
    };

    private sealed record Row(string From, string? Label, long? Frame, string? Problem);

    public static Command Create() =>
        new Command("add", "Move labels by a number of frames; they wrap at 24 label hours.")
        {
            LabelInput.Labels, Frames, FormatOptions.Rate, FormatOptions.Drop, FormatOptions.Snap, LabelInput.FromFile,
        }.Runs(async session =>
        {
            LabelFormat format = FormatOptions.Format(session);
            IReadOnlyList<string> labels = await LabelInput.ReadAsync(session, LabelInput.Labels).ConfigureAwait(false);
            TimecodeService.TimecodeServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).Timecode;
            List<Row> rows = [];
            foreach (string[] some in labels.Chunk(LabelRows.MostRows))
            {
                (Google.Protobuf.ByteString batch, int width) = LabelRows.Pack(some);
                AddFramesResponse response = await client.AddFramesAsync(
                    new()
                    {
                        Format = format,
                        LabelWidth = width,
                        Labels = batch,
                        Frames = { session.Line.GetValue(Frames) },
                        SnapDroppedForward = session.Line.GetValue(FormatOptions.Snap),
                    },
                    cancellationToken: session.Cancellation);
                Dictionary<int, string> problems = response.Errors.ToDictionary(error => error.Index, error => error.Description);
                rows.AddRange(LabelRows.Unpack(response.Labels, response.LabelWidth).Select((label, i) =>
                    problems.TryGetValue(i, out string? problem)
                        ? new Row(some[i], null, null, problem)
                        : new(some[i], label, response.FrameIndices[i], null)));
            }

            int exitCode = rows.Exists(row => row.Problem is not null) ? ExitCode.BadInput : ExitCode.Done;
            return session.Answer(
                "postpipeline.timecode.sums/1",
                rows,
                console =>
                {
                    Table table = new Table().Border(TableBorder.Simple).AddColumns("from", "label", "frame", "problem");
                    rows.ForEach(row => table.AddRow(Markup.Escape(row.From), row.Label ?? string.Empty, $"{row.Frame}", Markup.Escape(row.Problem ?? string.Empty)));
                    console.Write(table);
                },
                exitCode);
        });
}
