using Google.Protobuf;
using PostPipeline.Contracts.Timecodes.V1;
using PostPipeline.Contracts.Types.V1;
using PostPipeline.Services.Tests.Transports;
using Xunit;
using static PostPipeline.Services.Tests.Timecode.TimecodeSamples;

namespace PostPipeline.Services.Tests.Timecode;

/// <summary>What is worked out from labels: sums, durations, other rates, constants of a format.</summary>
public abstract class LabelArithmeticContract<TTransport> : TimecodeHostContract<TTransport>
    where TTransport : ITransportFactory
{
    [Fact]
    public async Task ConvertLabels_RatesBeyond64Bits_AreAnErrorOfTheLabel()
    {
        ConvertLabelsRequest request = new()
        {
            From = Format(1_000_003, 999_999_999_989),
            To = Format(999_983, 999_999_999_961),
            Basis = ConversionBasis.ElapsedTime,
            LabelWidth = 11,
            Labels = Rows(11, "23:59:59:00", "00:00:00:00"),
        };
        ConvertLabelsResponse response = await Clients.Timecode.ConvertLabelsAsync(request);
        Assert.Equal([-1, 0], response.FramesFromAnchor);
        Assert.Contains("64 bits", Assert.Single(response.Errors).Description);
    }

    // Source: tests/Tables/timecode/constants.csv, exact arithmetic.
    [Fact]
    public async Task DescribeFormats_GivesConstantsOrTheReason()
    {
        DescribeFormatsResponse response = await Clients.Timecode.DescribeFormatsAsync(new() { Formats = { Drop, Format(24000, 1001), Format(120, 1), Format(50, 1, drop: true) } });
        FormatDescription drop = response.Outcomes[0].Description;
        Assert.Equal((30, 2, 17_982, 107_892, 2_589_408), (drop.NominalFramesPerSecond, drop.DroppedLabelsPerMinute, drop.FramesPerTenMinutes, drop.FramesPerHour, drop.FramesPerDay));
        Assert.Equal(Fraction(-54, 625), drop.DriftSecondsPerLabelDay);
        Assert.True(drop.AllowsDropFrame);
        Assert.Equal((1, 0), (drop.FramesPerLtcWord, drop.FramesPerSuperFrame));
        Assert.Equal(Fraction(18, 5), response.Outcomes[1].Description.DriftSecondsPerLabelHour);
        Assert.Equal((0, 4, 12), (response.Outcomes[2].Description.FramesPerLtcWord, response.Outcomes[2].Description.FramesPerSuperFrame, response.Outcomes[2].Description.LabelWidth));
        Assert.Contains("goes up to 60", response.Outcomes[2].Description.LtcProblem);
        Assert.Equal("format.drop_frame", response.Outcomes[3].Error.Field);
    }

    [Fact]
    public async Task AddFrames_OneOrOneEach_WrapsAtMidnight()
    {
        ByteString labels = Rows(11, "23:59:59:23", "xx", "00:00:00:00");
        AddFramesResponse one = await Clients.Timecode.AddFramesAsync(new() { Format = Film, LabelWidth = 11, Labels = labels, Frames = { 1 } });
        Assert.Equal("00:00:00:00           00:00:00:01", one.Labels.ToStringUtf8());
        Assert.Equal([0, -1, 1], one.FrameIndices);
        Assert.Equal(1, Assert.Single(one.Errors).Index);

        AddFramesResponse each = await Clients.Timecode.AddFramesAsync(new() { Format = Film, LabelWidth = 11, Labels = labels, Frames = { -23, 0, -1 } });
        Assert.Equal("23:59:59:00           23:59:59:23", each.Labels.ToStringUtf8());
        await Refused(Clients.Timecode.AddFramesAsync(new() { Format = Film, LabelWidth = 11, Labels = labels, Frames = { 1, 2 } }), ("frames", "allowed is 1, or 3"));
    }

    // Common practice, no source: 23:58:30:00 to 00:01:00:00 at 24 is 3,600 frames.
    [Fact]
    public async Task MeasureDurations_AcrossMidnight_CountsForwards()
    {
        MeasureDurationsResponse response = await Clients.Timecode.MeasureDurationsAsync(new()
        {
            Format = Film,
            LabelWidth = 11,
            StartLabels = Rows(11, "23:58:30:00", "01:00:00:00", "23:00:00:00", "01:00:00:99"),
            EndLabels = Rows(11, "00:01:00:00", "01:00:10:00", "00:00:00:00", "01:00:00:00"),
        });
        Assert.Equal([3_600, 240, 86_400, -1], response.FrameCounts);
        Assert.Equal([true, false, false, false], response.CrossesMidnight);
        Assert.Equal(Fraction(1, 24), response.SecondsPerFrame);
        Assert.Equal(("start_labels", 3), (Assert.Single(response.Errors).Field, response.Errors[0].Index));
    }

    // Derived by hand: 86,400 frames at 24000/1001 last 3,603.6 s, 90,090 frames at 25.
    [Fact]
    public async Task ConvertLabels_ByFrameCountOrElapsedTime_DependsOnTheBasis()
    {
        ConvertLabelsRequest request = new()
        {
            From = Format(24000, 1001),
            To = Format(25, 1),
            Basis = ConversionBasis.ElapsedTime,
            LabelWidth = 11,
            Labels = Rows(11, "01:00:00:00", "00:00:00:01", "bad"),
        };
        ConvertLabelsResponse byTime = await Clients.Timecode.ConvertLabelsAsync(request);
        Assert.Equal("01:00:03:1500:00:00:01           ", byTime.Labels.ToStringUtf8());
        Assert.Equal([90_090, 1, -1], byTime.FramesFromAnchor);

        // The second label is 1001/24000 s; the frame that shows starts at 1/25 s, 41/24000 s earlier.
        Assert.Equal(new Rational { Numerator = -41, Denominator = 24_000 }, Reduced(byTime.RoundingNumerators[1], byTime.RoundingDenominator));

        request.Basis = ConversionBasis.FrameCount;
        request.FromAnchor = "01:00:00:00";
        request.ToAnchor = "10:00:00:00";
        ConvertLabelsResponse byCount = await Clients.Timecode.ConvertLabelsAsync(request);
        Assert.StartsWith("10:00:00:00", byCount.Labels.ToStringUtf8());

        request.Basis = ConversionBasis.Unspecified;
        request.ToAnchor = "10:00:00;00";
        await Refused(Clients.Timecode.ConvertLabelsAsync(request), ("basis", "is Unspecified"), ("to_anchor", "marked as drop-frame"));
    }

    private static Rational Reduced(long numerator, long denominator)
    {
        long divisor = (long)System.Numerics.BigInteger.GreatestCommonDivisor(numerator, denominator);
        return Fraction(numerator / divisor, denominator / divisor);
    }
}

public sealed class EmbeddedLabelArithmeticTests : LabelArithmeticContract<EmbeddedTransport>;

public sealed class NetworkLabelArithmeticTests : LabelArithmeticContract<KestrelTransport>;
