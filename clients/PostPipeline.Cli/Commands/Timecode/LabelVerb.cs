using System.CommandLine;
using System.Globalization;
using PostPipeline.Cli.Frame;
using PostPipeline.Client;
using PostPipeline.Contracts.Timecodes.V1;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Timecode;

/// <summary><c>timecode label</c>: frame numbers to labels.</summary>
internal static class LabelVerb
{
    private static readonly Argument<string[]> Frames = new("frames")
    {
        Description = "Frame numbers from label zero; they wrap at 24 label hours.",
        Arity = ArgumentArity.ZeroOrMore,
    };

    private static readonly Option<int?> SuperFrame = new("--super-frame")
    {
        Description = "Write HH:MM:SS:FF.S with so many frames in a super-frame; 0 for the usual grouping.",
        HelpName = "N",
    };

    private sealed record Row(long Frame, string Label);

    public static Command Create() =>
        new Command("label", "Write frame numbers as labels.") { Frames, FormatOptions.Rate, FormatOptions.Drop, SuperFrame, LabelInput.FromFile }.Runs(async session =>
        {
            LabelFormat format = FormatOptions.Format(session);
            IReadOnlyList<string> items = await LabelInput.ReadAsync(session, Frames).ConfigureAwait(false);
            long[] frames = [.. items.Select(Number)];
            TimecodeService.TimecodeServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).Timecode;
            IReadOnlyList<string> labels = await client.LabelsOfAsync(format, frames, session.Line.GetValue(SuperFrame), session.Cancellation).ConfigureAwait(false);
            List<Row> rows = [.. frames.Zip(labels, (frame, label) => new Row(frame, label))];
            return session.Answer("postpipeline.timecode.labels/1", rows, console =>
            {
                Table table = new Table().Border(TableBorder.Simple).AddColumns("frame", "label");
                rows.ForEach(row => table.AddRow($"{row.Frame}", row.Label));
                console.Write(table);
            });
        });

    private static long Number(string text) =>
        long.TryParse(text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out long number)
            ? number
            : throw new InputException(InputProblem.Of("frames", text, "is no frame number; write a whole number"));
}
