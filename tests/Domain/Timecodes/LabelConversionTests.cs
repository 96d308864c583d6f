using CsCheck;
using PostPipeline.Quantities;
using PostPipeline.Timecodes;
using Xunit;

namespace PostPipeline.Domain.Tests.Timecodes;

public class LabelConversionTests
{
    private static readonly TimecodeFormat Film = TimecodeFormat.Fps24;
    private static readonly TimecodeFormat Slowed = TimecodeFormat.Fps24000Over1001;
    private static readonly TimecodeFormat Drop = TimecodeFormat.Fps30000Over1001Drop;

    // Derived by hand: 86,400 frames at 24000/1001 last 3,603.6 s, which are 90,090 frames at 25 = 01:00:03:15, while
    // 86,400 frames counted at 25 are 57 min 36 s.
    [Theory]
    [InlineData(ConversionBasis.ElapsedTime, "01:00:03:15")]
    [InlineData(ConversionBasis.FrameCount, "00:57:36:00")]
    public void Convert_OneHourAt24000Over1001_DependsOnTheBasis(ConversionBasis basis, string expected)
    {
        LabelConversion conversion = LabelConversion.FromLabelZero(Slowed, TimecodeFormat.Fps25, basis, FrameRounding.Down);
        Assert.Equal(expected, conversion.Convert(Timecode.Parse("01:00:00:00", Slowed)).Label.ToString());
    }

    // Common practice, no source: 24 against 24000/1001 is 3.6 s an hour, 86.4 frames.
    [Fact]
    public void Convert_FilmHourTo24000Over1001_Loses86Frames()
    {
        LabelConversion conversion = LabelConversion.FromLabelZero(Film, Slowed, ConversionBasis.ElapsedTime, FrameRounding.Down);
        ConvertedLabel converted = conversion.Convert(Timecode.Parse("01:00:00:00", Film));
        Assert.Equal(86_313, converted.FramesFromAnchor);
        Assert.Equal("00:59:56:09", converted.Label.ToString());
    }

    [Theory]
    [InlineData(FrameRounding.Down, 2)]
    [InlineData(FrameRounding.Nearest, 3)]
    [InlineData(FrameRounding.Up, 3)]
    public void ConvertFrames_HalfWay_RoundsAsSaid(FrameRounding rounding, long expected)
    {
        // 5 frames at 50 are 2.5 at 25.
        (long frames, Rational off) = LabelConversion.ConvertFrames(5, FrameRate.From(50, 1), FrameRate.Fps25, rounding);
        Assert.Equal(expected, frames);
        Assert.Equal(new Rational((2 * expected) - 5, 50), off);
    }

    [Fact]
    public void Convert_WithAnchors_CountsFromThemAcrossMidnight()
    {
        LabelConversion conversion = new(
            Timecode.Parse("23:59:50:00", Film), Timecode.Parse("10:00:00;00", Drop), ConversionBasis.ElapsedTime, FrameRounding.Nearest);

        // 20 s at 30000/1001 are 600,000/1001 frames; 599 frames last 599·1001/30000 s, 401/30000 s less.
        ConvertedLabel converted = conversion.Convert(Timecode.Parse("00:00:10:00", Film));
        Assert.Equal(599, converted.FramesFromAnchor);
        Assert.Equal("10:00:19;29", converted.Label.ToString());
        Assert.Equal(new Rational(-401, 30_000), converted.RoundingSeconds);
    }

    [Fact]
    public void Convert_LabelOfAnotherFormat_IsRefused() =>
        Assert.Throws<ArgumentException>(() =>
            LabelConversion.FromLabelZero(Film, Slowed, ConversionBasis.FrameCount, FrameRounding.Down).Convert(Timecode.FromFrames(0, Slowed)));

    // Property: there and back by elapsed time is at most one frame of the slower rate away; by frame count it is exact.
    [Fact]
    public void ConvertFrames_ThereAndBack_StaysWithinAFrame() =>
        Gen.Select(TimecodeParseTests.AnyFormat, TimecodeParseTests.AnyFormat, Gen.Long[0, 10_000_000]).Sample((a, b, frames) =>
        {
            (long there, Rational off) = LabelConversion.ConvertFrames(frames, a.Rate, b.Rate, FrameRounding.Nearest);
            (long back, _) = LabelConversion.ConvertFrames(there, b.Rate, a.Rate, FrameRounding.Nearest);
            Rational away = (back - frames) * a.Rate.SecondsPerFrame;
            Rational slowest = a.Rate < b.Rate ? a.Rate.SecondsPerFrame : b.Rate.SecondsPerFrame;
            Rational half = b.Rate.SecondsPerFrame / 2;
            bool exact = there * b.Rate.SecondsPerFrame == (frames * a.Rate.SecondsPerFrame) + off;
            return exact && off <= half && off >= -half && (away.Sign < 0 ? -away : away) <= slowest;
        });
}
