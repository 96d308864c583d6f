using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Contracts.Types.V1;
using PostPipeline.Services.Tests.Transports;
using Xunit;
using static PostPipeline.Services.Tests.Footage.FootageSamples;

namespace PostPipeline.Services.Tests.Footage;

/// <summary>Recordings against their media and buffers. Clip R: common practice, no source; see the domain's tests.</summary>
public abstract class RecordingContract<TTransport> : FootageHostContract<TTransport>
    where TTransport : ITransportFactory
{
    [Fact]
    public async Task AssessRecordings_OverCeiling_SaysWhatWouldPass()
    {
        RecordingItem item = Recording(4_423_680, 96, 450);
        item.CompressionRatio = new() { Numerator = 3, Denominator = 1 };
        item.Raster = new() { Width = 4096, Height = 2160 };
        RecordingAssessment answer = (await Clients.Footage.AssessRecordingsAsync(new() { Items = { item }, Explain = true })).Results[0].Assessment;
        Assert.Equal((RecordingClass.OverCeiling, Verdict.Fail), (answer.RecordingClass, answer.Sustained));
        Assert.Equal((424_673_280, 382_500_000), (answer.NeededBytesPerSecond, answer.CeilingBytesPerSecond));
        Assert.Equal((86, 3.34), (answer.SustainableFramesPerSecond, answer.NeededRatio));
        Assert.Equal((1205.6, 4822.5), (Math.Round(answer.RecordSeconds, 1), Math.Round(answer.ScreenSeconds, 1)));
        Assert.Equal("write ceiling", answer.BindingLimit);
        Assert.True((long)answer.SustainableRaster.Width * answer.SustainableRaster.Height * 96 / 2 <= 382_500_000);
        Assert.Equal("fail", answer.Derivation.Value);
        Assert.Equal("trusted part of the media rating", answer.Derivation.Inputs.Single(i => i.Name == "write ceiling").Margin);
        Assert.Equal((answer.BindingLimit, answer.NextLimit), (answer.Derivation.BindingLimit, answer.Derivation.NextLimit));
    }

    [Fact]
    public async Task AssessRecordings_Burst_HasItsWindow()
    {
        RecordingItem item = Recording(13_271_040, 480, 900);
        item.Medium.Derating = new() { Numerator = 1, Denominator = 1 };
        item.ProjectRate = Rate(24);
        item.Buffer = new() { CapacityBytes = 96_000_000_000, Drain = DrainBehaviour.WhileRecording, TriggerPosition = new() { Numerator = 1, Denominator = 2 }, ResetSeconds = 5 };
        RecordingAssessment answer = (await Clients.Footage.AssessRecordingsAsync(new() { Items = { item } })).Results[0].Assessment;
        Assert.Equal((RecordingClass.Burst, Verdict.Fail), (answer.RecordingClass, answer.Sustained));
        Assert.Equal((16.22, 106.7, 111.7), (Math.Round(answer.Burst.WindowSeconds, 2), Math.Round(answer.Burst.DrainSeconds, 1), Math.Round(answer.Burst.ReadyAgainSeconds, 1)));
        Assert.Equal((96_000_000_000, 7783), (answer.Burst.BytesAtRisk, answer.Burst.Frames));
    }

    // Derived by hand: what manuals state. 4 s of the mode's 442,368,000 B/s; 95 s until ready less 5 s reset at 500 MB/s: 45 GB.
    [Fact]
    public async Task AssessRecordings_BufferKnownBySeconds_IsDerived()
    {
        RecordingItem seconds = Recording(3_686_400, 120, 260);
        seconds.Buffer = new() { StatedBurstSeconds = 4, Drain = DrainBehaviour.AfterCapture };
        RecordingItem again = Recording(13_271_040, 480, 500);
        again.Medium.Derating = new() { Numerator = 1, Denominator = 1 };
        again.Buffer = new() { StatedReadyAgainSeconds = 95, ResetSeconds = 5, Drain = DrainBehaviour.AfterCapture };
        RecordingItem never = again.Clone();
        never.Buffer.ResetSeconds = 95;
        AssessRecordingsResponse response = await Clients.Footage.AssessRecordingsAsync(new() { Items = { seconds, again, never }, Explain = true });
        Assert.Equal((4.0, 480L, 4 * 442_368_000L), (response.Results[0].Assessment.Burst.WindowSeconds, response.Results[0].Assessment.Burst.Frames, response.Results[0].Assessment.Burst.BytesAtRisk));
        Assert.Equal((45_000_000_000, 95.0), (response.Results[1].Assessment.Burst.BytesAtRisk, response.Results[1].Assessment.Burst.ReadyAgainSeconds));
        Assert.Contains(Nodes(response.Results[1].Assessment.Derivation), n => n is { Name: "buffer", Source: "(95 s until ready again − 5 s reset) × write ceiling" });
        Assert.Equal("buffer.stated_ready_again_seconds", response.Results[2].Error.Field);
    }

    [Theory]
    [InlineData(Verdict.Unspecified, Verdict.Unknown)]
    [InlineData(Verdict.Unknown, Verdict.Unknown)]
    [InlineData(Verdict.Pass, Verdict.Pass)]
    [InlineData(Verdict.Fail, Verdict.Fail)]
    public async Task AssessRecordings_WithinCeiling_NeedsEvidence(Verdict evidence, Verdict expected)
    {
        RecordingItem item = Recording(4_423_680, 24, 450);
        item.Evidence = evidence;
        RecordingAssessment answer = (await Clients.Footage.AssessRecordingsAsync(new() { Items = { item } })).Results[0].Assessment;
        Assert.Equal((RecordingClass.Sustained, expected, 1.0), (answer.RecordingClass, answer.Sustained, answer.NeededFurtherRatio));
    }

    [Fact]
    public async Task AssessRecordings_BufferWithoutOrWithTwoSizes_IsRefused()
    {
        RecordingItem none = Recording(13_271_040, 480, 900);
        none.Buffer = new();
        RecordingItem two = Recording(13_271_040, 480, 900);
        two.Buffer = new() { CapacityBytes = 1, StatedBurstSeconds = 1 };
        AssessRecordingsResponse response = await Clients.Footage.AssessRecordingsAsync(new() { Items = { none, two } });
        Assert.All(response.Results, r => Assert.Equal("buffer.capacity_bytes", r.Error.Field));
    }
}

public sealed class EmbeddedRecordingTests : RecordingContract<EmbeddedTransport>;

public sealed class NetworkRecordingTests : RecordingContract<KestrelTransport>;
