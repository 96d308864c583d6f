using CsCheck;
using PostPipeline.Quantities;
using PostPipeline.Timecodes;
using Xunit;

namespace PostPipeline.Domain.Tests.Timecodes;

public class TimecodeFormatTests
{
    // Source: SMPTE ST 12-1 and ST 12-3: drop-frame at 30000/1001, 60000/1001 and 120000/1001 only.
    [Theory]
    [InlineData(24000, 1001)]
    [InlineData(24, 1)]
    [InlineData(25, 1)]
    [InlineData(30, 1)]
    [InlineData(48000, 1001)]
    [InlineData(50, 1)]
    [InlineData(60, 1)]
    [InlineData(72, 1)]
    [InlineData(96, 1)]
    [InlineData(100, 1)]
    [InlineData(120, 1)]
    [InlineData(240000, 1001)]
    [InlineData(2997, 100)]
    public void From_DropFrameWhereThereIsNone_IsRefusedWithTheReason(long numerator, long denominator)
    {
        FrameRate rate = FrameRate.From(numerator, denominator);
        var refused = Assert.Throws<ArgumentOutOfRangeException>(() => TimecodeFormat.From(rate, dropFrame: true));
        Assert.Contains($"does not exist at {rate} frames", refused.Message);
        Assert.Contains("30000/1001, 60000/1001 and 120000/1001 only", refused.Message);
    }

    [Theory]
    [InlineData(30000, 2)]
    [InlineData(60000, 4)]
    [InlineData(120000, 8)]
    public void From_DropFrameWhereItExists_LeavesOutTwoLabelsPerThirty(long numerator, int dropped) =>
        Assert.Equal(dropped, TimecodeFormat.From(FrameRate.From(numerator, 1001), dropFrame: true).DroppedPerMinute);

    [Theory]
    [InlineData(1, 1, 2)]
    [InlineData(25, 2, 2)]
    [InlineData(100, 1, 2)]
    [InlineData(101, 1, 3)]
    [InlineData(1000, 1, 3)]
    [InlineData(1001, 1, 4)]
    [InlineData(1_000_000, 1, 6)]
    public void FrameDigits_AnyRate_HoldTheHighestFrameNumber(long numerator, long denominator, int digits) =>
        Assert.Equal(digits, TimecodeFormat.From(FrameRate.From(numerator, denominator)).FrameDigits);

    [Fact]
    public void Equals_SameRateAndNumbering_HoldsWhateverTheSpelling()
    {
        Assert.Equal(TimecodeFormat.Fps30000Over1001Drop, TimecodeFormat.From(FrameRate.From(60000, 2002), dropFrame: true));
        Assert.NotEqual(TimecodeFormat.Fps30000Over1001Drop, TimecodeFormat.Fps30000Over1001);
        Assert.NotEqual(TimecodeFormat.Fps24, TimecodeFormat.Fps24000Over1001);
    }

    // Property, any rational rate up to the highest allowed: the label of a frame names that frame.
    [Fact]
    public void FieldsOf_AnyRationalRate_AreInvertedByTryGetFrameIndex() =>
        Gen.Select(Gen.Long[1, 1_000_000], Gen.Long[1, 2000], Gen.Long)
            .Where((n, d, _) => n / d < FrameRate.MaximumFramesPerSecond)
            .Sample((n, d, frames) =>
            {
                TimecodeFormat format = TimecodeFormat.From(FrameRate.From(n, d));
                LabelFault fault = format.TryGetFrameIndex(format.FieldsOf(frames), DroppedLabels.Refuse, out long index);
                return fault == LabelFault.None && index == format.Wrap(frames);
            });
}
