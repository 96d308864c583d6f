using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Client;
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

    public static Command Create() =>
        new Command("frame", "Read labels as frame numbers.")
        {
            LabelInput.Labels, FormatOptions.Rate, FormatOptions.Drop, FormatOptions.Snap, SuperFrame, LabelInput.FromFile,
        }.Runs(async session =>
        {
            LabelFormat format = FormatOptions.Format(session);
            IReadOnlyList<string> labels = await LabelInput.ReadAsync(session, LabelInput.Labels).ConfigureAwait(false);
            TimecodeService.TimecodeServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).Timecode;
            IReadOnlyList<LabelReading> rows = await client.FramesOfAsync(
                format, labels, session.Line.GetValue(FormatOptions.Snap), session.Line.GetValue(SuperFrame), session.Cancellation).ConfigureAwait(false);
            int exitCode = rows.Any(row => row.Problem is not null) ? ExitCode.BadInput : ExitCode.Done;
            return session.Answer(
                "postpipeline.timecode.frames/1",
                rows,
                console =>
                {
                    Table table = new Table().Border(TableBorder.Simple).AddColumns("label", "frame", "problem");
                    foreach (LabelReading row in rows)
                    {
                        table.AddRow(Markup.Escape(row.Label), $"{row.Frame}", Markup.Escape(row.Problem ?? string.Empty));
                    }

                    console.Write(table);
                },
                exitCode);
        });
}
