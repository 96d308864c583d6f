using PostPipeline.Quantities;
using PostPipeline.Timecodes;
using Xunit;

namespace PostPipeline.Domain.Tests.Timecodes;

/// <summary>Every frame of 24 label hours, walked.</summary>
public class TimecodeWholeDayTests
{
    // Source: SMPTE ST 12-1 and ST 12-3. The counter is stepped here by the rule itself (count on; at the start of a
    // minute that is not a multiple of ten leave the first 2, 4 or 8 numbers out), which is not how the library reckons.
    [Theory]
    [InlineData(30000, 2)]
    [InlineData(60000, 4)]
    [InlineData(120000, 8)]
    public void DropFrame_EveryFrameOfTheDay_RoundTripsIncreasesAndIsNeverDropped(long numerator, int left)
    {
        TimecodeFormat format = TimecodeFormat.From(FrameRate.From(numerator, 1001), dropFrame: true);
        Span<char> text = stackalloc char[format.LabelLength];
        Span<byte> utf8 = stackalloc byte[format.LabelLength];
        (int h, int m, int s, int f) = (0, 0, 0, 0);
        long previous = -1;
        for (long index = 0; index < format.FramesPerDay; index++)
        {
            Timecode label = Timecode.FromFrames(index, format);
            LabelFields fields = label.Fields;
            long number = ((((fields.Hours * 60L) + fields.Minutes) * 60) + fields.Seconds) * format.Nominal + fields.Frames;
            bool dropped = fields.Frames < left && fields.Seconds == 0 && fields.Minutes % 10 != 0;
            if (number <= previous || dropped || fields != new LabelFields(h, m, s, f)
                || !label.TryFormat(text, out _) || !Timecode.TryParse(text, format, out Timecode back, out _) || back.FrameIndex != index
                || !label.TryFormat(utf8, out _) || !Timecode.TryParse(utf8, format, out Timecode back8, out _) || back8.FrameIndex != index)
            {
                Assert.Fail($"frame {index} at {format}: {label}");
            }

            previous = number;
            (h, m, s, f) = Next(h, m, s, f, format.Nominal, left);
        }

        Assert.Equal((24, 0, 0, 0), (h, m, s, f));
    }

    private static (int H, int M, int S, int F) Next(int h, int m, int s, int f, int nominal, int left)
    {
        if (++f == nominal)
        {
            f = 0;
            if (++s == 60)
            {
                s = 0;
                if (++m == 60)
                {
                    m = 0;
                    h++;
                }

                if (m % 10 != 0)
                {
                    f = left;
                }
            }
        }

        return (h, m, s, f);
    }
}
