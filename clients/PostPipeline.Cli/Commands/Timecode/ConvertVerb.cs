using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Client;
using PostPipeline.Contracts.Timecodes.V1;
using PostPipeline.Quantities;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Timecode;

/// <summary><c>timecode convert</c>: labels at another rate.</summary>
internal static class ConvertVerb
{
    private static readonly Option<string> ToRate = new("--to-rate") { Description = "The rate to convert to.", Required = true, HelpName = "RATE" };
    private static readonly Option<bool> ToDrop = new("--to-drop") { Description = "Drop-frame numbering at the rate to convert to." };

    private static readonly Option<string> Keep = new("--keep")
    {
        Description = "What stays the same: frames (the count of pictures) or time (the instant).",
        Required = true,
        HelpName = "frames|time",
    };

    private static readonly Option<string> Round = new("--round")
    {
        Description = "By time, which frame is meant: down (the one showing), nearest or up.",
        DefaultValueFactory = _ => "down",
        HelpName = "down|nearest|up",
    };

    private static readonly Option<string> Anchor = new("--anchor")
    {
        Description = "A label that both sides name, as it reads before; label zero without it.",
        DefaultValueFactory = _ => string.Empty,
        HelpName = "LABEL",
    };

    private static readonly Option<string> ToAnchor = new("--to-anchor")
    {
        Description = "The same instant as it reads after; label zero without it.",
        DefaultValueFactory = _ => string.Empty,
        HelpName = "LABEL",
    };

    private sealed record Row(string From, string? Label, long? FramesFromAnchor, Exact? RoundingSeconds, string? Problem);

    public static Command Create()
    {
        Keep.AcceptOnlyFromAmong("frames", "time");
        Round.AcceptOnlyFromAmong("down", "nearest", "up");
        return new Command("convert", "Carry labels to another rate; you say whether frames or time stay the same.")
        {
            LabelInput.Labels, FormatOptions.Rate, FormatOptions.Drop, ToRate, ToDrop, Keep, Round, Anchor, ToAnchor, FormatOptions.Snap, LabelInput.FromFile,
        }.Runs(RunAsync);
    }

    private static async Task<int> RunAsync(Session session)
    {
        LabelFormat from = FormatOptions.Format(session);
        LabelFormat to = new() { Rate = FormatOptions.ReadRate(session, ToRate), DropFrame = session.Line.GetValue(ToDrop) };
        IReadOnlyList<string> labels = await LabelInput.ReadAsync(session, LabelInput.Labels).ConfigureAwait(false);
        TimecodeService.TimecodeServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).Timecode;
        List<Row> rows = [];
        foreach (string[] some in labels.Chunk(LabelRows.MostRows))
        {
            (Google.Protobuf.ByteString batch, int width) = LabelRows.Pack(some);
            ConvertLabelsResponse response = await client.ConvertLabelsAsync(
                new()
                {
                    From = from,
                    To = to,
                    Basis = session.Line.GetValue(Keep) == "frames" ? ConversionBasis.FrameCount : ConversionBasis.ElapsedTime,
                    Rounding = session.Line.GetValue(Round) switch { "nearest" => FrameRounding.Nearest, "up" => FrameRounding.Up, _ => FrameRounding.Down },
                    FromAnchor = session.Line.GetValue(Anchor)!,
                    ToAnchor = session.Line.GetValue(ToAnchor)!,
                    LabelWidth = width,
                    Labels = batch,
                    SnapDroppedForward = session.Line.GetValue(FormatOptions.Snap),
                },
                cancellationToken: session.Cancellation);
            Dictionary<int, string> problems = response.Errors.ToDictionary(error => error.Index, error => error.Description);
            rows.AddRange(LabelRows.Unpack(response.Labels, response.LabelWidth).Select((label, i) =>
                problems.TryGetValue(i, out string? problem)
                    ? new Row(some[i], null, null, null, problem)
                    : new(
                        some[i],
                        label,
                        response.FramesFromAnchor[i],
                        Exact.From(new Rational(response.RoundingNumerators[i], response.RoundingDenominator)),
                        null)));
        }

        int exitCode = rows.Exists(row => row.Problem is not null) ? ExitCode.BadInput : ExitCode.Done;
        return session.Answer(
            "postpipeline.timecode.conversions/1",
            rows,
            console =>
            {
                Table table = new Table().Border(TableBorder.Simple).AddColumns("from", "label", "frames from anchor", "rounded by, s", "problem");
                rows.ForEach(row => table.AddRow(
                    Markup.Escape(row.From), row.Label ?? string.Empty, $"{row.FramesFromAnchor}", $"{row.RoundingSeconds}", Markup.Escape(row.Problem ?? string.Empty)));
                console.Write(table);
            },
            exitCode);
    }
}
