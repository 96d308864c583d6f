using PostPipeline.Quantities;
using PostPipeline.Timecodes;
using PostPipeline.Timecodes.Synchronization;
using Xunit;

namespace PostPipeline.Domain.Tests.Timecodes;

public class SynchronizationTests
{
    // Common practice, no source: ±10 ppm each for 12 h is 0.864 s, 20.7 frames at 24.
    [Fact]
    public void DriftSecondsAfter_TwoClocksOf10PpmForTwelveHours_IsTheSumOfBoth()
    {
        JamSyncPair pair = JamSyncPair.From(10, 10);
        Assert.Equal(new Rational(864, 1000), pair.DriftSecondsAfter(12 * 3600));
        Assert.Equal(new Rational(20_736, 1000), pair.DriftFramesAfter(12 * 3600, FrameRate.Fps24));
        Assert.Equal(42, pair.SyncsNeeded(12 * 3600, new(1, 2), FrameRate.Fps24));
    }

    // Common practice, no source: half a frame at 24 with ±1 ppm each lasts 2.89 h.
    [Fact]
    public void LongestIntervalSeconds_HalfAFrameAtOnePpm_IsTenThousandSeconds()
    {
        Rational? seconds = JamSyncPair.From(1, 1).LongestIntervalSeconds(new(1, 2), FrameRate.Fps24);
        Assert.Equal(new Rational(31_250, 3), seconds);
        Assert.Equal(289, (seconds!.Value / 36).Floor());
    }

    [Fact]
    public void LongestIntervalSeconds_PerfectClocks_HaveNone() =>
        Assert.Null(JamSyncPair.From(0, 0).LongestIntervalSeconds(1, FrameRate.Fps25));

    [Fact]
    public void From_ImpossibleTolerance_IsRefused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => JamSyncPair.From(-1, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => JamSyncPair.From(0, 1_000_001));
        Assert.Throws<ArgumentOutOfRangeException>(() => JamSyncPair.From(1, 1).DriftSecondsAfter(-1));
        Assert.Throws<ArgumentOutOfRangeException>(() => JamSyncPair.From(1, 1).LongestIntervalSeconds(0, FrameRate.Fps24));
    }

    // Source: exact arithmetic on the counting rule of SMPTE ST 12-1.
    [Fact]
    public void ClockDrift_OverLabelHourAndDay_IsTheFormatsConstant()
    {
        Assert.Equal(new Rational(36, 10), ClockDrift.Over(TimecodeFormat.Fps24000Over1001, 86_400).DriftSeconds);
        Assert.Equal(new Rational(-36, 10_000), ClockDrift.Over(TimecodeFormat.Fps30000Over1001Drop, 107_892).DriftSeconds);
        Assert.Equal(new Rational(-864, 10_000), ClockDrift.Over(TimecodeFormat.Fps30000Over1001Drop, 2_589_408).DriftSeconds);
        Assert.Equal(0, ClockDrift.Over(TimecodeFormat.Fps25, 1_234_567).DriftSeconds);
        Assert.Throws<ArgumentOutOfRangeException>(() => ClockDrift.Over(TimecodeFormat.Fps25, -1));
    }

    // Drop-frame labels stay near the clock all day: never more than the labels dropped at once, plus the daily drift.
    [Fact]
    public void ClockDrift_DropFrame_StaysWithinAFewFramesOfTheClock()
    {
        TimecodeFormat format = TimecodeFormat.Fps30000Over1001Drop;
        for (long frame = 0; frame < format.FramesPerDay; frame += 17)
        {
            Rational drift = ClockDrift.Over(format, frame).DriftSeconds;
            Assert.True(drift < new Rational(2, 30) && drift > new Rational(-864, 10_000) - new Rational(2, 30), $"frame {frame}: {drift}");
        }
    }
}
