using System.CommandLine;
using Google.Protobuf;
using PostPipeline.Cli.Frame;
using PostPipeline.Client;
using PostPipeline.Contracts.Timecodes.V1;
using PostPipeline.Quantities;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Timecode;

/// <summary><c>timecode duration</c>: frames from one label forward to another.</summary>
internal static class DurationVerb
{
    private static readonly Argument<string> Start = new("start") { Description = "The first label." };
    private static readonly Argument<string> End = new("end") { Description = "The label after the last one." };

    private sealed record Duration(string Start, string End, long Frames, Exact Seconds, bool CrossesMidnight);

    public static Command Create() =>
        new Command("duration", "Count the frames from a label forward to another, across midnight where the other is earlier.")
        {
            Start, End, FormatOptions.Rate, FormatOptions.Drop, FormatOptions.Snap,
        }.Runs(async session =>
        {
            string[] labels = [session.Line.GetValue(Start)!, session.Line.GetValue(End)!];
            (ByteString rows, int width) = LabelRows.Pack(labels);
            TimecodeService.TimecodeServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).Timecode;
            MeasureDurationsResponse response = await client.MeasureDurationsAsync(
                new()
                {
                    Format = FormatOptions.Format(session),
                    LabelWidth = width,
                    StartLabels = ByteString.CopyFrom(rows.Span[..width]),
                    EndLabels = ByteString.CopyFrom(rows.Span[width..]),
                    SnapDroppedForward = session.Line.GetValue(FormatOptions.Snap),
                },
                cancellationToken: session.Cancellation);
            if (response.Errors.Count > 0)
            {
                throw new InputException([.. response.Errors.Select(error => InputProblem.Of(error.Field.StartsWith("start", StringComparison.Ordinal) ? "start" : "end", string.Empty, error.Description))]);
            }

            Rational seconds = response.FrameCounts[0] * new Rational(response.SecondsPerFrame.Numerator, response.SecondsPerFrame.Denominator);
            Duration duration = new(labels[0], labels[1], response.FrameCounts[0], Exact.From(seconds), response.CrossesMidnight[0]);
            return session.Answer("postpipeline.timecode.duration/1", duration, console =>
                console.WriteLine($"{duration.Frames} frames, {duration.Seconds} s{(duration.CrossesMidnight ? ", across midnight" : string.Empty)}"));
        });
}
