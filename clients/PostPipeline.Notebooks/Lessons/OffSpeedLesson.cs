using PostPipeline.Client;
using PostPipeline.Contracts.Timecodes.V1;
using PostPipeline.Notebooks.Charts;
using PostPipeline.Notebooks.Rendering;

namespace PostPipeline.Notebooks.Lessons;

/// <summary>An over-cranked clip, the labels it may get, and the next clip on the same reel. The numbers come from the timecode service.</summary>
public sealed class OffSpeedLesson
{
    private readonly OffSpeedShot shot;
    private readonly OffSpeedClip clip;
    private readonly LabelFormat format;
    private readonly string nextEnd;

    private OffSpeedLesson(OffSpeedShot shot, OffSpeedClip clip, LabelFormat format, string nextEnd) => (this.shot, this.clip, this.format, this.nextEnd) = (shot, clip, format, nextEnd);

    /// <summary>Asks the timecode service.</summary>
    /// <param name="shot">The clip and the next.</param>
    public static async Task<OffSpeedLesson> AskAsync(OffSpeedShot shot)
    {
        SuiteClients suite = await Suite.ClientsAsync().ConfigureAwait(false);
        LabelFormat format = new() { Rate = Wire.Rate(shot.BaseRate) };
        OffSpeedQuery query = new()
        {
            SensorRate = Wire.Rate(shot.SensorRate),
            Base = format,
            PlaybackRate = Wire.Rate(shot.BaseRate),
            Labelling = shot.Labelling switch
            {
                "one label a frame" => OffSpeedLabelling.PerFrame,
                "labels follow the clock" => OffSpeedLabelling.FollowsClock,
                "record run forced" => OffSpeedLabelling.RecordRunForced,
                _ => OffSpeedLabelling.Unknown,
            },
            StartLabel = shot.StartLabel,
            RecordRunLabel = "01:00:00:00",
            RecordedSeconds = Wire.Thousandths(shot.RecordedSeconds),
        };
        query.LaterClips.Add(new LabelSpan { StartLabel = shot.NextLabel, FrameCount = shot.NextFrames });
        MapOffSpeedRequest request = new();
        request.Queries.Add(query);
        MapOffSpeedResponse answer = await suite.Timecode.MapOffSpeedAsync(request, cancellationToken: Output.Stop).ResponseAsync.ConfigureAwait(false);
        OffSpeedOutcome outcome = answer.Outcomes[0];
        if (outcome.Error is not null)
        {
            throw new InvalidOperationException($"{outcome.Error.Field}: {outcome.Error.Description}");
        }

        long next = (await IndicesAsync(suite, format, [shot.NextLabel]).ConfigureAwait(false))[0];
        return new(shot, outcome.Clip, format, (await LabelsAsync(suite, format, [next + shot.NextFrames]).ConfigureAwait(false))[0]);
    }

    /// <summary>Frames, seconds and overlaps by behaviour.</summary>
    public Markdown Answer => new($"{clip.FrameCount:N0} frames in {Say.Number(Wire.Of(clip.RecordedSeconds))} s, {Say.Number(Wire.Of(clip.ScreenSeconds))} s on screen.\n\n" + string.Join("\n", clip.Labels.Select(l =>
        $"- *{Said(l.Labelling)}*: {(l.Span is { StartLabel.Length: > 0 } span ? $"{span.StartLabel} to {span.EndLabel}" : "no labels")}, {(l.OverlapLabels.Sum() is > 0 and long used ? $"**{used:N0} labels used twice** with the next clip" : "no label used twice")}.")));

    /// <summary>The clip and the next on their labels, one lane a behaviour.</summary>
    public async Task<Figure> StripAsync()
    {
        SuiteClients suite = await Suite.ClientsAsync().ConfigureAwait(false);
        OffSpeedLabels[] laid = [.. clip.Labels.Where(l => l.Span is { StartLabel.Length: > 0 } && l.Labelling != OffSpeedLabelling.RecordRunForced)];
        long[] starts = await IndicesAsync(suite, format, [.. laid.Select(l => l.Span.StartLabel), shot.NextLabel]).ConfigureAwait(false);
        return Chart.TimecodeStrip(
            "Which labels does the clip use, and which the next?",
            [.. laid.SelectMany((l, i) => new TimecodeClip[]
            {
                new(Said(l.Labelling), "over-cranked", starts[i], l.Span.FrameCount, l.Span.StartLabel, l.Span.EndLabel),
                new(Said(l.Labelling), "next", starts[^1], shot.NextFrames, shot.NextLabel, nextEnd),
            })]);
    }

    /// <summary>How far labels fall behind the clock in some hours, at the whole rate and at its 1000/1001.</summary>
    /// <param name="hours">Hours of labels, 1 to 24.</param>
    public static async Task<Figure> DriftAsync(int hours)
    {
        SuiteClients suite = await Suite.ClientsAsync().ConfigureAwait(false);
        MeasureDriftRequest request = new();
        (string Name, long Numerator, long Denominator)[] rates = [("24", 24, 1), ("24000/1001", 24_000, 1001)];
        foreach ((_, long numerator, long denominator) in rates)
        {
            for (int hour = 0; hour <= hours; hour++)
            {
                request.Queries.Add(new DriftQuery { Format = new() { Rate = new() { Numerator = numerator, Denominator = denominator } }, FrameCount = hour * 86_400L });
            }
        }

        MeasureDriftResponse answer = await suite.Timecode.MeasureDriftAsync(request, cancellationToken: Output.Stop).ResponseAsync.ConfigureAwait(false);
        return Chart.Band(
            "24 is not 24000/1001: 3.6 s an hour",
            new("Labels", "h"),
            new("Clock beyond the labels", "s"),
            [.. rates.Select((rate, r) => BandSeries.Line(rate.Name, Enumerable.Range(0, hours + 1).Select(hour => ((double)hour, Math.Abs(Wire.Of(answer.Outcomes[(r * (hours + 1)) + hour].Drift.DriftSeconds))))))]);
    }

    private static string Said(OffSpeedLabelling labelling) => labelling switch
    {
        OffSpeedLabelling.PerFrame => "one label a frame",
        OffSpeedLabelling.FollowsClock => "labels follow the clock",
        OffSpeedLabelling.RecordRunForced => "record run forced",
        _ => "no labels",
    };

    private static async Task<string[]> LabelsAsync(SuiteClients suite, LabelFormat format, IEnumerable<long> indices)
    {
        FormatLabelsRequest request = new() { Format = format };
        request.FrameIndices.AddRange(indices);
        FormatLabelsResponse answer = await suite.Timecode.FormatLabelsAsync(request, cancellationToken: Output.Stop).ResponseAsync.ConfigureAwait(false);
        string all = answer.Labels.ToStringUtf8();
        return [.. all.Chunk(answer.LabelWidth).Select(label => new string(label).Trim())];
    }

    private static async Task<long[]> IndicesAsync(SuiteClients suite, LabelFormat format, IReadOnlyList<string> labels)
    {
        int width = labels.Max(label => label.Length);
        ParseLabelsResponse answer = await suite.Timecode.ParseLabelsAsync(
            new() { Format = format, LabelWidth = width, Labels = Google.Protobuf.ByteString.CopyFromUtf8(string.Concat(labels.Select(label => label.PadRight(width)))) },
            cancellationToken: Output.Stop).ResponseAsync.ConfigureAwait(false);
        return answer.Errors.Count == 0 ? [.. answer.FrameIndices] : throw new InvalidOperationException(answer.Errors[0].Description);
    }
}
