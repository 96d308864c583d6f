using CsCheck;
using PostPipeline.Quantities;
using PostPipeline.Timecodes;
using Xunit;

namespace PostPipeline.Domain.Tests.Timecodes;

public class SuperFrameTests
{
    // Source: SMPTE ST 12-3 counts super-frames at 24, 25 or 30 (value from memory); the sub-frame notation is ours.
    [Theory]
    [InlineData(120000, 1001, true, 0, 4, 107, "00:00:00;26.3")]
    [InlineData(120000, 1001, true, 0, 4, 7_200, "00:01:00;02.0")]
    [InlineData(120000, 1001, false, 5, 5, 119, "00:00:00:23.4")]
    [InlineData(120, 1, false, 0, 4, 120, "00:00:01:00.0")]
    [InlineData(100, 1, false, 0, 4, 99, "00:00:00:24.3")]
    [InlineData(96, 1, false, 0, 4, 95, "00:00:00:23.3")]
    [InlineData(72, 1, false, 0, 3, 71, "00:00:00:23.2")]
    [InlineData(60000, 1001, true, 0, 2, 3_600, "00:01:00;02.0")]
    [InlineData(50, 1, false, 0, 2, 49, "00:00:00:24.1")]
    [InlineData(48, 1, false, 0, 2, 47, "00:00:00:23.1")]
    [InlineData(360, 1, false, 0, 12, 11, "00:00:00:00.11")]
    public void LabelOf_HighFrameRates_CountsSuperFramesAndSubFrames(
        long numerator, long denominator, bool drop, int grouping, int expectedGrouping, long frame, string expected)
    {
        TimecodeFormat frames = TimecodeFormat.From(FrameRate.From(numerator, denominator), drop);
        SuperFrameFormat format = SuperFrameFormat.From(frames, grouping);
        Assert.Equal(expectedGrouping, format.FramesPerSuperFrame);
        string text = format.Format(format.LabelOf(Timecode.FromFrames(frame, frames)));
        Assert.Equal(expected, text);
        Assert.Equal(format.LabelLength, text.Length);
        Assert.True(format.TryParse(text, out SuperFrameLabel label, out string problem), problem);
        Assert.Equal(frame, format.PlainLabelOf(label).FrameIndex);
    }

    [Theory]
    [InlineData(120000, 1001, true, 5, "drop-frame numbering does not exist at 24000/1001")]
    [InlineData(120, 1, false, 7, "cannot be grouped by 7")]
    [InlineData(120, 1, false, 2, "cannot be grouped by 2")]
    [InlineData(24, 1, false, 0, "cannot be grouped")]
    [InlineData(30, 1, false, 1, "cannot be grouped by 1")]
    [InlineData(30, 1, false, -1, "cannot be grouped by -1")]
    public void TryCreate_NoSuchGrouping_SaysWhy(long numerator, long denominator, bool drop, int grouping, string reason)
    {
        TimecodeFormat frames = TimecodeFormat.From(FrameRate.From(numerator, denominator), drop);
        Assert.False(SuperFrameFormat.TryCreate(frames, grouping, out _, out string problem));
        Assert.Contains(reason, problem);
    }

    [Theory]
    [InlineData("00:00:00:00")]
    [InlineData("00:00:00:00.4")]
    [InlineData("00:00:00:00.-1")]
    [InlineData("00:00:00:00.")]
    [InlineData("00:00:00:30.0")]
    [InlineData(".0")]
    public void TryParse_NoSuchLabel_SaysWhy(string text)
    {
        SuperFrameFormat format = SuperFrameFormat.From(TimecodeFormat.From(FrameRate.From(120, 1)));
        Assert.False(format.TryParse(text, out _, out string problem));
        Assert.NotEmpty(problem);
    }

    [Fact]
    public void PlainLabelOf_AnyFrameOfTheDay_InvertsLabelOf() =>
        Gen.Select(Gen.OneOf((120000L, true), (60000L, true), (120000L, false), (48000L, false)), Gen.Long).Sample((rate, frame) =>
        {
            TimecodeFormat frames = TimecodeFormat.From(FrameRate.From(rate.Item1, 1001), rate.Item2);
            SuperFrameFormat format = SuperFrameFormat.From(frames);
            Timecode label = Timecode.FromFrames(frame, frames);
            return format.SuperFrames.FramesPerDay * format.FramesPerSuperFrame == frames.FramesPerDay
                && format.PlainLabelOf(format.LabelOf(label)) == label;
        });
}
