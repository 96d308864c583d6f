using CsCheck;
using PostPipeline.Quantities;
using PostPipeline.Timecodes;
using Xunit;

namespace PostPipeline.Domain.Tests.Timecodes;

public class TimecodeRangeTests
{
    // The slowest formats have the shortest day, 86,400 labels, so sets can be compared label by label.
    private static readonly TimecodeFormat Slow = TimecodeFormat.From(FrameRate.From(1, 60));
    private static readonly int Day = (int)Slow.FramesPerDay;

    private static readonly Gen<TimecodeRange> AnyRange =
        Gen.Select(Gen.Int[0, Day - 1], Gen.OneOf<int>(Gen.Int[0, 400], Gen.Int[Day - 400, Day + 400], Gen.Int[0, Day]))
            .Select((start, count) => TimecodeRange.FromStart(Timecode.FromFrames(start, Slow), count));

    [Fact]
    public void IntersectAndOverlap_AgainstLabelByLabel_Agree() =>
        Gen.Select(AnyRange, AnyRange).Sample(
            (a, b) =>
            {
                bool[] inA = Labels(a);
                bool[] inB = Labels(b);
                long shared = Enumerable.Range(0, Day).Count(i => inA[i] && inB[i]);
                IReadOnlyList<TimecodeRange> pieces = a.Intersect(b);
                bool[] inPieces = new bool[Day];
                foreach (TimecodeRange piece in pieces)
                {
                    for (long i = 0; i < piece.FrameCount; i++)
                    {
                        inPieces[(piece.Start + i).FrameIndex] = true;
                    }
                }

                bool[] both = [.. inA.Zip(inB, (x, y) => x && y)];
                bool all = b.IsEmpty || (b.FrameCount >= Day ? inA.All(x => x) : Enumerable.Range(0, Day).All(i => !inB[i] || inA[i]) && Contiguous(a, b));
                return a.OverlapLabels(b) == shared && b.OverlapLabels(a) == shared && pieces.Sum(p => p.FrameCount) == shared
                    && inPieces.SequenceEqual(both) && a.Contains(b) == all;
            },
            iter: 60);

    [Fact]
    public void FromStartAndEnd_AnyRange_IsInvertedByEndExclusive() =>
        Gen.Select(TimecodeParseTests.AnyFormat, Gen.Long, Gen.Long).Sample((format, start, end) =>
        {
            Timecode first = Timecode.FromFrames(start, format);
            Timecode last = Timecode.FromFrames(end, format);
            long count = first.FramesUntil(last);
            if (count > TimecodeRange.MaximumFrames)
            {
                return true;
            }

            TimecodeRange range = TimecodeRange.FromStartAndEnd(first, last);
            return range.EndExclusive == last && range == TimecodeRange.FromStart(first, count) && range.Contains(last) is false
                && (count == 0 || (range.Contains(first) && range.Contains(last - 1)));
        });

    [Fact]
    public void CrossesMidnight_EndingExactlyAtMidnight_DoesNot()
    {
        TimecodeFormat format = TimecodeFormat.Fps24;
        Assert.False(TimecodeRange.FromStart(Timecode.FromFrames(-24, format), 24).CrossesMidnight);
        Assert.True(TimecodeRange.FromStart(Timecode.FromFrames(-24, format), 25).CrossesMidnight);
        Assert.Equal(Timecode.FromFrames(0, format), TimecodeRange.FromStart(Timecode.FromFrames(-24, format), 24).EndExclusive);
    }

    [Fact]
    public void DurationSeconds_IsExactAtTheTrueRate() =>
        Assert.Equal(
            new Rational(36_036, 10), TimecodeRange.FromStart(Timecode.FromFrames(0, TimecodeFormat.Fps30000Over1001), 108_000).DurationSeconds);

    [Fact]
    public void Slice_OutsideTheRange_IsRefused()
    {
        TimecodeRange range = TimecodeRange.FromStart(Timecode.FromFrames(10, TimecodeFormat.Fps25), 100);
        Assert.Equal(TimecodeRange.FromStart(Timecode.FromFrames(60, TimecodeFormat.Fps25), 50), range.Slice(50, 50));
        Assert.Throws<ArgumentOutOfRangeException>(() => range.Slice(50, 51));
        Assert.Throws<ArgumentOutOfRangeException>(() => range.Slice(101, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => TimecodeRange.FromStart(range.Start, -1));
        Assert.Throws<ArgumentOutOfRangeException>(() => TimecodeRange.FromStart(range.Start, TimecodeRange.MaximumFrames + 1));
    }

    // A set of labels may lie in a range that wraps although the other range, read in its order, does not fit.
    private static bool Contiguous(TimecodeRange a, TimecodeRange b) =>
        a.FrameCount >= Day || a.Start.FramesUntil(b.Start) + b.FrameCount <= a.FrameCount;

    private static bool[] Labels(TimecodeRange range)
    {
        bool[] labels = new bool[Day];
        for (int i = 0; i < Math.Min(range.FrameCount, Day); i++)
        {
            labels[(int)((range.Start.FrameIndex + i) % Day)] = true;
        }

        return labels;
    }
}
