using CsCheck;
using PostPipeline.Quantities;
using PostPipeline.Timecodes;
using Xunit;

namespace PostPipeline.Domain.Tests.Timecodes;

public class TimecodeArithmeticTests
{
    private static readonly TimecodeFormat Drop = TimecodeFormat.Fps30000Over1001Drop;

    // Source: the counting rule of SMPTE ST 12-1, worked by hand.
    [Theory]
    [InlineData(1_799, "00:00:59;29")]
    [InlineData(1_800, "00:01:00;02")]
    [InlineData(17_982, "00:10:00;00")]
    [InlineData(107_892, "01:00:00;00")]
    public void FromFrames_DropFrame_GivesTheWorkedLabels(long frames, string label) =>
        Assert.Equal(label, Timecode.FromFrames(frames, Drop).ToString());

    [Fact]
    public void FromFrames_SameFramesNonDrop_Reads108NumbersLess() =>
        Assert.Equal("00:59:56:12", Timecode.FromFrames(107_892, TimecodeFormat.Fps30000Over1001).ToString());

    [Fact]
    public void DropFrameDay_Lasts86399Point9136Seconds()
    {
        Assert.Equal(2_589_408, Drop.FramesPerDay);
        Assert.Equal(new Rational(863_999_136, 10_000), Drop.Rate.SecondsFor(Drop.FramesPerDay));
    }

    // Common practice, no source: a label range across midnight is counted forwards.
    [Fact]
    public void FramesUntil_AcrossMidnight_CountsForwards()
    {
        Timecode start = Timecode.Parse("23:58:30:00", TimecodeFormat.Fps24);
        Timecode end = Timecode.Parse("00:01:00:00", TimecodeFormat.Fps24);
        Assert.Equal(3_600, start.FramesUntil(end));
        Assert.True(TimecodeRange.FromStartAndEnd(start, end).CrossesMidnight);
    }

    [Fact]
    public void Add_AtTheEndOfTheDay_WrapsToZero()
    {
        Timecode last = Timecode.FromFrames(-1, Drop);
        Assert.Equal("23:59:59;29", last.ToString());
        Assert.Equal("00:00:00;00", (last + 1).ToString());
        Assert.Equal("23:59:59;29", (last + (3 * Drop.FramesPerDay)).ToString());
    }

    [Fact]
    public void AddSubtractAndFramesUntil_AnyFormat_FormAGroupOnTheDay() =>
        Gen.Select(TimecodeParseTests.AnyFormat, Gen.Long, Gen.Long, Gen.Long).Sample((format, start, x, y) =>
        {
            Timecode label = Timecode.FromFrames(start, format);
            return label + x - x == label
                && label + x + y == label + format.Wrap(x) + format.Wrap(y)
                && label.FramesUntil(label + x) == format.Wrap(x)
                && (label + x).FramesUntil(label) == format.Wrap(-format.Wrap(x))
                && label + format.FramesPerDay == label;
        });

    [Fact]
    public void CompareTo_OtherFormat_IsRefused()
    {
        Timecode film = Timecode.FromFrames(0, TimecodeFormat.Fps24);
        Timecode slowed = Timecode.FromFrames(0, TimecodeFormat.Fps24000Over1001);
        Assert.Throws<ArgumentException>(() => film < slowed);
        Assert.Throws<ArgumentException>(() => film.FramesUntil(slowed));
        Assert.NotEqual(film, slowed);
    }

    [Fact]
    public void Default_IsLabelZeroAtOneFramePerSecond()
    {
        Assert.Equal("00:00:00:00", default(Timecode).ToString());
        Assert.Equal(default, Timecode.FromFrames(0, TimecodeFormat.From(default)));
        Assert.Equal(default(Timecode).GetHashCode(), Timecode.FromFrames(0, TimecodeFormat.From(default)).GetHashCode());
    }

    [Theory]
    [InlineData(24, 0, 0, 0)]
    [InlineData(-1, 0, 0, 0)]
    [InlineData(0, 60, 0, 0)]
    [InlineData(0, 0, 60, 0)]
    [InlineData(0, 0, 0, 30)]
    [InlineData(0, 0, 0, -1)]
    [InlineData(0, 1, 0, 1)]
    public void FromFields_NoSuchLabel_IsRefused(int h, int m, int s, int f) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => Timecode.FromFields(new(h, m, s, f), Drop));

    [Fact]
    public void TryFormat_TooLittleRoom_WritesNothing()
    {
        Span<char> room = stackalloc char[10];
        Assert.False(Timecode.FromFrames(5, Drop).TryFormat(room, out int written));
        Assert.Equal(0, written);
        Assert.True(room.IndexOfAnyExcept('\0') < 0);
    }

    [Fact]
    public void RoundTrip_InTheCallersMemory_AllocatesNothing()
    {
        Span<char> text = stackalloc char[12];
        Span<byte> utf8 = stackalloc byte[12];
        TimecodeFormat[] formats = [Drop, TimecodeFormat.Fps24, TimecodeFormat.From(FrameRate.From(120, 1))];

        // Code that is not optimised yet may put a value on the heap; when it is optimised depends on how busy the machine is.
        long sum = 0;
        long allocated = long.MaxValue;
        for (int run = 0; run < 20 && allocated > 0; run++)
        {
            long before = GC.GetAllocatedBytesForCurrentThread();
            sum += RoundTrips(formats, text, utf8, 100_000);
            allocated = GC.GetAllocatedBytesForCurrentThread() - before;
        }

        Assert.Equal(0, allocated);
        Assert.NotEqual(0, sum);
    }

    private static long RoundTrips(TimecodeFormat[] formats, Span<char> text, Span<byte> utf8, int count)
    {
        long sum = 0;
        for (int i = 0; i < count; i++)
        {
            TimecodeFormat format = formats[i % formats.Length];
            Timecode.FromFrames(i * 7919L, format).TryFormat(text, out int chars);
            Timecode.TryParse(text[..chars], format, out Timecode label, out _);
            label.TryFormat(utf8, out int bytes);
            Timecode.TryParse(utf8[..bytes], format, out label, out _);

            // A refusal costs nothing either.
            Timecode.TryParse("00:61:00:00", format, out _, out LabelError error);
            sum += label.FrameIndex + error.Position;
        }

        return sum;
    }
}
