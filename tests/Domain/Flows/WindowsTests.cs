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
