using CsCheck;
using PostPipeline.Flows;
using Xunit;

namespace PostPipeline.Domain.Tests.Flows;

public class WindowsTests
{
    private static readonly Gen<Windows> AnyWindows = Gen.Select(Gen.Long[-200, 200], Gen.Long[0, 40], (from, length) => (from, from + length))
        .List[0, 12].Select(Windows.From);

    // Property: walking tick by tick is the slow obvious version.
    [Fact]
    public void Advance_AnyWindows_EqualsCountingTicks() =>
        Gen.Select(AnyWindows, Gen.Long[-250, 250], Gen.Long[0, 100]).Sample((windows, start, work) =>
        {
            long? expected = work == 0 ? start : null;
            long done = 0;
            for (long t = start; t < 500 && expected is null; t++)
            {
                done += windows.IsOpen(t) ? 1 : 0;
                expected = done == work ? t + 1 : null;
            }

            Assert.Equal(expected, windows.Advance(start, work));
        });

    // Property: where it looks first never changes the answer, whatever the order of the pieces.
    [Fact]
    public void Advance_ManyPiecesLookingNearTheLast_EqualsEachAlone() =>
        Gen.Select(AnyWindows, Gen.Select(Gen.Long[-250, 250], Gen.Long[0, 100]).List[1, 30], Gen.Int[-1, 15]).Sample((windows, pieces, near) =>
        {
            foreach ((long start, long work) in pieces)
            {
                Assert.Equal(windows.Advance(start, work), windows.Advance(start, work, ref near));
            }
        });

    // The same against a sum over all intervals, for calendars of hundreds of days, windows that lie in clusters far apart,
    // and the ends of the clock.
    [Fact]
    public void Advance_ManyWindowsNearAndFar_EqualsTheSumOverAll() =>
        Gen.Select(
            Gen.Select(Gen.Long[-3, 3], Gen.Long[0, 100_000], Gen.Long[0, 200], (far, from, length) => ((far * 1_000_000_000_000) + from, (far * 1_000_000_000_000) + from + length)).List[0, 400],
            Gen.Select(Gen.Long[-4, 4], Gen.Long[-10, 110_000], (far, from) => (far * 1_000_000_000_000) + from),
            Gen.Long[1, 40_000]).Sample((intervals, start, work) =>
        {
            Windows windows = Windows.From(intervals);
            long Open(long until) => windows.Intervals.Sum(w => Math.Max(0, Math.Min(w.Until, until) - Math.Max(w.From, start)));
            Assert.Equal(windows.Intervals.Any(w => w.From <= start && start < w.Until), windows.IsOpen(start));
            if (windows.Advance(start, work) is { } end)
            {
                Assert.Equal(work, Open(end));
                Assert.Equal(work - 1, Open(end - 1));
            }
            else
            {
                Assert.True(Open(long.MaxValue) < work);
            }
        }, iter: 300);

    [Fact]
    public void Always_AnyInstant_IsOpen()
    {
        Assert.True(Windows.Always.IsOpen(0));
        Assert.Equal(86_400, Windows.Always.Advance(0, 86_400));
        Windows shut = Windows.Always.Except(Windows.From([(10, 20)]));
        Assert.Equal(21, shut.Advance(9, 2));
        Assert.Null(Windows.Never.Advance(0, 1));
        Assert.False(Windows.Never.IsOpen(0));
    }

    [Fact]
    public void OpenBetween_AnyWindows_EqualsCountingTicks() =>
        Gen.Select(AnyWindows, Gen.Long[-250, 250], Gen.Long[0, 300]).Sample((windows, start, length) =>
        {
            long expected = 0;
            for (long t = start; t < start + length; t++)
            {
                expected += windows.IsOpen(t) ? 1 : 0;
            }

            Assert.Equal(expected, windows.OpenBetween(start, start + length));
        });

    [Fact]
    public void IntersectAndExcept_AnyTwo_PartitionTheFirst() =>
        Gen.Select(AnyWindows, AnyWindows).Sample((a, b) =>
        {
            Windows both = a.Intersect(b);
            Windows rest = a.Except(b);
            for (long t = -260; t < 260; t++)
            {
                Assert.Equal(a.IsOpen(t) && b.IsOpen(t), both.IsOpen(t));
                Assert.Equal(a.IsOpen(t) && !b.IsOpen(t), rest.IsOpen(t));
            }
        });

    [Fact]
    public void From_EndBeforeStart_IsRefused() =>
        Assert.Throws<ArgumentException>(() => Windows.From([(5, 4)]));
}
