using Google.Protobuf;
using PostPipeline.Client;
using PostPipeline.Contracts.Timecodes.V1;
using PostPipeline.Services.Tests.Transports;
using Xunit;
using static PostPipeline.Services.Tests.Timecode.TimecodeSamples;

namespace PostPipeline.Services.Tests.Timecode;

/// <summary>Labels and frames, either way and many at once.</summary>
public abstract class LabelContract<TTransport> : TimecodeHostContract<TTransport>
    where TTransport : ITransportFactory
{
    // Source: SMPTE ST 12-1, worked by hand.
    [Fact]
    public async Task FormatLabels_DropFrame_PacksLabels()
    {
        FormatLabelsResponse response = await Clients.Timecode.FormatLabelsAsync(new() { Format = Drop, FrameIndices = { 1_799, 1_800, 17_982, 107_892, -1 } });
        Assert.Equal(11, response.LabelWidth);
        Assert.Equal("00:00:59;2900:01:00;0200:10:00;0001:00:00;0023:59:59;29", response.Labels.ToStringUtf8());
    }

    [Fact]
    public async Task FormatAndParseLabels_SuperFrames_GiveTheFramesBack()
    {
        LabelFormat fast = Format(120000, 1001, drop: true);
        FormatLabelsResponse labels = await Clients.Timecode.FormatLabelsAsync(new() { Format = fast, FramesPerSuperFrame = 0, FrameIndices = { 107, 7_200 } });
        Assert.Equal("00:00:00;26.300:01:00;02.0", labels.Labels.ToStringUtf8());
        ParseLabelsResponse indices = await Clients.Timecode.ParseLabelsAsync(
            new() { Format = fast, FramesPerSuperFrame = 4, LabelWidth = labels.LabelWidth, Labels = labels.Labels });
        Assert.Equal([107, 7_200], indices.FrameIndices);
        Assert.Empty(indices.Errors);
    }

    [Fact]
    public async Task ParseLabels_WrongLabelsAmongGoodOnes_AnswersBoth()
    {
        ParseLabelsRequest request = new() { Format = Drop, LabelWidth = 12, Labels = Rows(12, "00:00:00;02", "00:01:00;00", "nonsense", "01:00:00:00") };
        ParseLabelsResponse response = await Clients.Timecode.ParseLabelsAsync(request);
        Assert.Equal([2, -1, -1, 107_892], response.FrameIndices);
        Assert.Equal([1, 2], response.Errors.Select(e => e.Index));
        Assert.Contains("is a dropped label", response.Errors[0].Description);
        Assert.Equal("labels", response.Errors[0].Field);

        request.SnapDroppedForward = true;
        Assert.Equal(1_800, (await Clients.Timecode.ParseLabelsAsync(request)).FrameIndices[1]);
    }

    [Fact]
    public async Task ParseLabels_TenThousand_GoBothWays()
    {
        long[] indices = [.. Enumerable.Range(0, 10_000).Select(i => i * 257L)];
        FormatLabelsResponse labels = await Clients.Timecode.FormatLabelsAsync(new() { Format = Drop, FrameIndices = { indices } });
        ParseLabelsResponse back = await Clients.Timecode.ParseLabelsAsync(new() { Format = Drop, LabelWidth = 11, Labels = labels.Labels });
        Assert.Equal(indices, back.FrameIndices);
    }

    [Fact]
    public async Task FormatLabels_WrongRequest_NamesEveryField()
    {
        await Refused(
            Clients.Timecode.FormatLabelsAsync(new() { Format = Format(25, 1, drop: true), FrameIndices = { new long[10_001] } }),
            ("format.drop_frame", "exists at 30000/1001, 60000/1001 and 120000/1001 only"),
            ("frame_indices", "has 10001 entries"));
        await Refused(Clients.Timecode.FormatLabelsAsync(new()), ("format", "is not set"));
        await Refused(Clients.Timecode.FormatLabelsAsync(new() { Format = Format(24, 0) }), ("format.rate.denominator", "is 0"));
        await Refused(Clients.Timecode.FormatLabelsAsync(new() { Format = Format(2_000_000, 1) }), ("format.rate", "at most 1000000"));
        await Refused(Clients.Timecode.FormatLabelsAsync(new() { Format = Film, FramesPerSuperFrame = 2 }), ("frames_per_super_frame", "cannot be grouped by 2"));
    }

    [Fact]
    public async Task ParseLabels_WrongRows_NamesTheField()
    {
        await Refused(Clients.Timecode.ParseLabelsAsync(new() { Format = Film, LabelWidth = 11, Labels = ByteString.CopyFromUtf8("00:00:00:0") }), ("labels", "whole rows"));
        await Refused(Clients.Timecode.ParseLabelsAsync(new() { Format = Film, LabelWidth = 9 }), ("label_width", "allowed is 10 to 32"));
    }

    // The largest batch of the worst items still fits a message.
    [Fact]
    public async Task LargestBatches_OfTheWorstItems_AreAnswered()
    {
        ByteString wrong = Rows(32, [.. Enumerable.Repeat(new string('9', 32), 10_000)]);
        Assert.Equal(10_000, (await Clients.Timecode.ParseLabelsAsync(new() { Format = Drop, LabelWidth = 32, Labels = wrong })).Errors.Count);
        ByteString dropped = Rows(11, [.. Enumerable.Repeat("00:01:00;00", 10_000)]);
        MeasureDurationsResponse durations = await Clients.Timecode.MeasureDurationsAsync(new() { Format = Drop, LabelWidth = 11, StartLabels = dropped, EndLabels = dropped });
        Assert.Equal(10_000, durations.Errors.Count);
        LabelFormat unusual = Format(999_999_999_999_999_989, 1_000_000_007);
        Assert.Equal(1_000, (await Clients.Timecode.DescribeFormatsAsync(new() { Formats = { Enumerable.Repeat(unusual, 1_000) } })).Outcomes.Count);
        OffSpeedQuery query = new()
        {
            SensorRate = Rate(999_999, 1),
            Base = Format(120000, 1001, drop: true),
            PlaybackRate = Rate(24000, 1001),
            StartLabel = "10:00:00;000",
            RecordRunLabel = "01:00:00;000",
            FrameCount = 1_000_000_000,
            LaterClips = { Enumerable.Repeat(new LabelSpan { StartLabel = "10:01:00;008", FrameCount = 1_000_000_000 }, 50) },
        };
        MapOffSpeedResponse clips = await Clients.Timecode.MapOffSpeedAsync(new() { Queries = { Enumerable.Repeat(query, 1_000) } });
        Assert.All(clips.Outcomes, outcome => Assert.Equal(4, outcome.Clip.Labels.Count));
    }

    [Fact]
    public async Task LabelCalls_MoreThanABatch_GoBothWays()
    {
        long[] frames = [.. Enumerable.Range(0, 25_000).Select(i => i * 103L)];
        IReadOnlyList<string> labels = await Clients.Timecode.LabelsOfAsync(Drop, frames);
        IReadOnlyList<LabelReading> readings = await Clients.Timecode.FramesOfAsync(Drop, [.. labels, "00:01:00;00", new string('x', 100), "½"]);
        Assert.Equal(frames, readings.Take(frames.Length).Select(reading => reading.Frame!.Value));
        Assert.All(readings.Skip(frames.Length), reading => Assert.True(reading is { Frame: null, Problem.Length: > 0 }));
        Assert.Empty(await Clients.Timecode.LabelsOfAsync(Drop, []));
    }
}

public sealed class EmbeddedLabelTests : LabelContract<EmbeddedTransport>;

public sealed class NetworkLabelTests : LabelContract<KestrelTransport>;
