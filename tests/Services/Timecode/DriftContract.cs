using PostPipeline.Contracts.Timecodes.V1;
using PostPipeline.Services.Tests.Transports;
using Xunit;
using static PostPipeline.Services.Tests.Timecode.TimecodeSamples;

namespace PostPipeline.Services.Tests.Timecode;

/// <summary>How far clocks and labels drift apart.</summary>
public abstract class DriftContract<TTransport> : TimecodeHostContract<TTransport>
    where TTransport : ITransportFactory
{
    // Common practice, no source: ±10 ppm each for 12 h is 0.864 s; half a frame at 24 with ±1 ppm each lasts 2.89 h.
    [Fact]
    public async Task BudgetJamSync_TwoPairs_GiveDriftAndInterval()
    {
        JamSyncQuery Query(long partsPerBillion) => new()
        {
            FirstPartsPerBillion = partsPerBillion,
            SecondPartsPerBillion = partsPerBillion,
            Rate = Rate(24, 1),
            ElapsedSeconds = Fraction(43_200, 1),
            BudgetFrames = Fraction(1, 2),
        };
        BudgetJamSyncResponse response = await Clients.Timecode.BudgetJamSyncAsync(new() { Queries = { Query(10_000), Query(1_000), Query(0), Query(-1) } });
        Assert.Equal(Fraction(108, 125), response.Outcomes[0].Budget.DriftSeconds);
        Assert.Equal(Fraction(2_592, 125), response.Outcomes[0].Budget.DriftFrames);
        Assert.Equal((42, false), (response.Outcomes[0].Budget.SyncsNeeded, response.Outcomes[0].Budget.WithinBudget));
        Assert.Equal(Fraction(31_250, 3), response.Outcomes[1].Budget.LongestIntervalSeconds);
        Assert.Null(response.Outcomes[2].Budget.LongestIntervalSeconds);
        Assert.True(response.Outcomes[2].Budget.WithinBudget);
        Assert.Equal("first_parts_per_billion", response.Outcomes[3].Error.Field);
        Assert.Contains("and 1 more", response.Outcomes[3].Error.Description);
    }

    [Fact]
    public async Task BudgetJamSync_NumbersBeyond64Bits_AreAnErrorOfTheItem()
    {
        JamSyncQuery query = new()
        {
            FirstPartsPerBillion = 999_999_937,
            Rate = Rate(999_983, 1_000_003),
            ElapsedSeconds = Fraction(long.MaxValue, 1),
            BudgetFrames = Fraction(1, long.MaxValue),
        };
        BudgetJamSyncResponse response = await Clients.Timecode.BudgetJamSyncAsync(new() { Queries = { query } });
        Assert.Contains("64 bits", response.Outcomes[0].Error.Description);
    }

    [Fact]
    public async Task MeasureDrift_OverAnHour_IsExact()
    {
        MeasureDriftResponse response = await Clients.Timecode.MeasureDriftAsync(new()
        {
            Queries = { new DriftQuery { Format = Format(24000, 1001), FrameCount = 86_400 }, new DriftQuery { Format = Film, FrameCount = -1 } },
        });
        Assert.Equal(Fraction(18, 5), response.Outcomes[0].Drift.DriftSeconds);
        Assert.Equal(Fraction(3_600, 1), response.Outcomes[0].Drift.LabelSeconds);
        Assert.Equal("frame_count", response.Outcomes[1].Error.Field);
    }
}

public sealed class EmbeddedDriftTests : DriftContract<EmbeddedTransport>;

public sealed class NetworkDriftTests : DriftContract<KestrelTransport>;
