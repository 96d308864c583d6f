using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Contracts.Timecodes.V1;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Timecode;

/// <summary><c>timecode frame</c>: labels to frame numbers.</summary>
internal static class FrameVerb
{
    private static readonly Option<int?> SuperFrame = new("--super-frame")
    {
        Description = "Read HH:MM:SS:FF.S with so many frames in a super-frame; 0 for the usual grouping.",
        HelpName = "N",
    };

    private sealed record Row(string Label, long? Frame, string? Problem);

    public static Command Create() =>
        new Command("frame", "Read labels as frame numbers.")
        {
            LabelInput.Labels, FormatOptions.Rate, FormatOptions.Drop, FormatOptions.Snap, SuperFrame, LabelInput.FromFile,
        }.Runs(async session =>
        {
            LabelFormat format = FormatOptions.Format(session);
            IReadOnlyList<string> labels = await LabelInput.ReadAsync(session, LabelInput.Labels).ConfigureAwait(false);
            TimecodeService.TimecodeServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).Timecode;
            List<Row> rows = [];
            foreach ((Google.Protobuf.ByteString batch, int width) in LabelInput.Batches(labels))
            {
                ParseLabelsRequest request = new() { Format = format, LabelWidth = width, Labels = batch, SnapDroppedForward = session.Line.GetValue(FormatOptions.Snap) };
                if (session.Line.GetValue(SuperFrame) is { } grouping)
                {
                    request.FramesPerSuperFrame = grouping;
                }

                ParseLabelsResponse response = await client.ParseLabelsAsync(request, cancellationToken: session.Cancellation);
                Dictionary<int, string> problems = response.Errors.ToDictionary(error => error.Index, error => error.Description);
                int first = rows.Count;
                rows.AddRange(response.FrameIndices.Select((frame, i) =>
                    problems.TryGetValue(i, out string? problem) ? new Row(labels[first + i], null, problem) : new(labels[first + i], frame, null)));
            }

            int exitCode = rows.Exists(row => row.Problem is not null) ? ExitCode.BadInput : ExitCode.Done;
            return session.Answer(
                "postpipeline.timecode.frames/1",
                rows,
                console =>
                {
                    Table table = new Table().Border(TableBorder.Simple).AddColumns("label", "frame", "problem");
                    rows.ForEach(row => table.AddRow(Markup.Escape(row.Label), $"{row.Frame}", Markup.Escape(row.Problem ?? string.Empty)));
                    console.Write(table);
                },
                exitCode);
        });
}
