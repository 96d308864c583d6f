using System.Globalization;
using System.Text;
using PostPipeline.Client;
using PostPipeline.Client.Conforming;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Contracts.Timecodes.V1;
using PostPipeline.Notebooks.Charts;
using PostPipeline.Notebooks.Rendering;

namespace PostPipeline.Notebooks.Lessons;

/// <summary>
/// What must be fetched for a conform: trimmed ranges, whole clips, or the trimmed ranges as a sequence of single frames.
/// The matching and the pull come from the conform service, bytes of a frame from the footage service.
/// </summary>
public sealed class PullLesson
{
    private const int FramesPerSecond = 24;
    private const int ClipsPerReel = 100;

    private readonly PullShot shot;
    private readonly long originalFrameBytes;
    private readonly long sequenceFrameBytes;

    private PullLesson(PullShot shot, ConformSummary summary, long originalFrameBytes, long sequenceFrameBytes) =>
        (this.shot, Summary, this.originalFrameBytes, this.sequenceFrameBytes) = (shot, summary, originalFrameBytes, sequenceFrameBytes);

    /// <summary>What the matching came to.</summary>
    public ConformSummary Summary { get; }

    /// <summary>Asks the services.</summary>
    /// <param name="shot">The cut and its clips.</param>
    public static async Task<PullLesson> AskAsync(PullShot shot)
    {
        SuiteClients suite = await Suite.ClientsAsync().ConfigureAwait(false);
        (long original, long sequence) = await FrameBytesAsync(suite, shot).ConfigureAwait(false);
        long cutFrames = (long)Math.Round(shot.Minutes * 60 * FramesPerSecond);
        long clipFrames = (long)Math.Round(shot.ClipSeconds * FramesPerSecond);
        List<long> indices = [];
        List<(long Frames, long First)> events = [];
        long record = FramesPerSecond * 3600L;
        for (int i = 0; i < shot.Events; i++)
        {
            long frames = (cutFrames * (i + 1) / shot.Events) - (cutFrames * i / shot.Events);
            if (frames < 1 || frames > clipFrames)
            {
                throw new InvalidOperationException($"an event has {frames} frames and a clip {clipFrames}; an event needs 1 frame or more and must fit its clip");
            }

            long start = (FramesPerSecond * 3600L) + (i % ClipsPerReel * (clipFrames + FramesPerSecond));
            long first = (clipFrames - frames) / 2;
            events.Add((frames, first));
            indices.AddRange([start, start + first, start + first + frames, record, record + frames]);
            record += frames;
        }

        string[] labels = await LabelsAsync(suite, indices).ConfigureAwait(false);
        StringBuilder cut = new("TITLE: INVENTED CUT\nFCM: NON-DROP FRAME\n");
        StringBuilder clips = new("name,reel,start,frames,rate,drop,kind,bytes,trimmable\n");
        for (int i = 0; i < events.Count; i++)
        {
            string reel = $"K{(i / ClipsPerReel) + 1:D3}";
            string name = $"{reel}_C{(i % ClipsPerReel) + 1:D3}";
            string[] own = labels[(i * 5)..((i * 5) + 5)];
            cut.Append(CultureInfo.InvariantCulture, $"{i + 1:D4}  {reel,-8} V     C        {own[1]} {own[2]} {own[3]} {own[4]}\n* FROM CLIP NAME: {name}\n");
            clips.Append(CultureInfo.InvariantCulture, $"{name},{reel},{own[0]},{clipFrames},{FramesPerSecond},no,original,{clipFrames * original},yes\n");
        }

        ConformSettings settings = new()
        {
            Rate = Wire.Rate(FramesPerSecond),
            Format = CutFormat.EditList,
            HandleFrames = shot.HandleFrames,
            Target = ClipKind.Original,
            Pull = new(),
        };
        ConformAnswer answer = await new ConformCalls(suite.Conform).ConformAsync(settings, Stream(cut), null, Stream(clips), Output.Stop).ConfigureAwait(false);
        return answer.Summary.Refused
            ? throw new InvalidOperationException(answer.Problems[0].Message)
            : new(shot, answer.Summary, original, sequence);
    }

    /// <summary>Frames and bytes of each way.</summary>
    public Markdown Answer => new(
        $"{Summary.Events:N0} events, {Summary.EventsForPerson:N0} for a person. With {shot.HandleFrames} frames on either side the pull has **{Summary.PullIfTrimmed.Frames:N0} frames**: "
        + $"**{Terabytes(Summary.PullIfTrimmed.Bytes)} TB** where ranges can be cut out of the clips, **{Terabytes(Summary.PullIfWhole.Bytes)} TB** where whole clips must be fetched, "
        + $"**{Terabytes(SequenceBytes)} TB** as a sequence of OpenEXR frames (half RGB, not compressed) written from the trimmed ranges.");

    /// <summary>Bytes of the trimmed ranges as single frames.</summary>
    public long SequenceBytes => checked(Summary.PullIfTrimmed.Frames * sequenceFrameBytes);

    /// <summary>The three ways side by side.</summary>
    public Figure Chart => Charts.Chart.Bars(
        "What must be fetched for the conform?",
        new("Bytes to fetch or write", "TB"),
        [
            new("trimmed ranges", "pull", Summary.PullIfTrimmed.Bytes / 1e12),
            new("whole clips", "pull", Summary.PullIfWhole.Bytes / 1e12),
            new("frame sequence", "pull", SequenceBytes / 1e12),
        ]);

    /// <summary>Bytes of one frame of each form.</summary>
    public NumberTable Frames => new(
        "Bytes of a frame",
        ["Form", "Bytes a frame (B)"],
        [["original, 12-bit raw at 3:1", originalFrameBytes], ["OpenEXR half RGB, not compressed", sequenceFrameBytes]]);

    private static string Terabytes(long bytes) => (bytes / 1e12).ToString("0.000", CultureInfo.InvariantCulture);

    private static MemoryStream Stream(StringBuilder text) => new(Encoding.UTF8.GetBytes(text.ToString()));

    private static async Task<(long Original, long Sequence)> FrameBytesAsync(SuiteClients suite, PullShot shot)
    {
        EstimateRatesRequest request = new();
        foreach (Coding coding in new Coding[] { new() { Raw = new() { BitDepth = 12, CompressionRatio = Wire.Whole(3) } }, new() { CatalogueName = "openexr-half-rgb" } })
        {
            request.Items.Add(new RateItem { Coding = coding, Raster = new() { Width = shot.Width, Height = shot.Height }, SensorRate = Wire.Rate(FramesPerSecond) });
        }

        EstimateRatesResponse answer = await suite.Footage.EstimateRatesAsync(request, cancellationToken: Output.Stop).ResponseAsync.ConfigureAwait(false);
        return answer.Results.FirstOrDefault(r => r.Error is not null) is { } wrong
            ? throw new InvalidOperationException($"{wrong.Error.Field}: {wrong.Error.Description}")
            : (answer.Results[0].Estimate.BytesPerFrame, answer.Results[1].Estimate.BytesPerFrame);
    }

    private static async Task<string[]> LabelsAsync(SuiteClients suite, IReadOnlyList<long> indices)
    {
        FormatLabelsRequest request = new() { Format = new() { Rate = Wire.Rate(FramesPerSecond) } };
        request.FrameIndices.AddRange(indices);
        FormatLabelsResponse answer = await suite.Timecode.FormatLabelsAsync(request, cancellationToken: Output.Stop).ResponseAsync.ConfigureAwait(false);
        return [.. answer.Labels.ToStringUtf8().Chunk(answer.LabelWidth).Select(label => new string(label).Trim())];
    }
}
