using CsCheck;
using PostPipeline.Flows;
using Xunit;

namespace PostPipeline.Domain.Tests.Flows;

public class OccupancyCurveTests
{
    // A generation: written over a stretch, purged over a later one (or never).
    private static readonly Gen<OccupancyChange[]> AnyGeneration =
        Gen.Select(Gen.Long[0, 50], Gen.Long[0, 20], Gen.Long[0, 1_000_000], Gen.Long[0, 30], Gen.Long[0, 10], Gen.Bool).Select((from, length, bytes, hold, purge, kept) =>
        {
            OccupancyChange written = OccupancyChange.Written(from, from + length, bytes);
            long end = from + length + hold;
            return kept ? [written] : new[] { written, OccupancyChange.Purged(end, end + purge, bytes) };
        });

    private static readonly Gen<OccupancyChange[]> AnyChanges = AnyGeneration.List[0, 8].Select(g => g.SelectMany(c => c).ToArray());

    // Derived by hand: 100 bytes over 10, held to 20, 60 more as a step at 15, all of the first purged at 20.
    [Fact]
    public void From_TwoGenerations_HasHandWorkedCornersAndPeak()
    {
        OccupancyCurve curve = OccupancyCurve.From(
            OccupancyChange.Written(0, 10, 100), OccupancyChange.Written(15, 15, 60), OccupancyChange.Purged(20, 20, 100));

        Assert.Equal([(0, 0, 0), (10, 100, 100), (15, 100, 160), (20, 160, 60)], curve.Corners);
        Assert.Equal((160, 15), (curve.PeakBytes, curve.PeakInstant));
        Assert.Equal([0, 30, 100, 160, 60], new[] { 0L, 3, 12, 15, 40 }.Select(curve.At));
        Assert.Equal(60, curve.FinalBytes);
        Assert.Equal(3, curve.FirstReaching(21));
        Assert.Equal(15, curve.FirstReaching(101));
        Assert.Null(curve.FirstReaching(161));
        Assert.Equal(2 * (500 + 500 + 800 + 60), curve.TwiceArea(0, 21));
    }

    [Fact]
    public void From_RiseAndFallTogether_PeaksWhereTheyCross()
    {
        // Written 90 over [0,30], purged 30 over [10,20]: slopes 3, 0, 3.
        OccupancyCurve curve = OccupancyCurve.From(OccupancyChange.Written(0, 30, 90), OccupancyChange.Purged(10, 20, 30));
        Assert.Equal([0, 30, 30, 30, 60], new[] { 0L, 10, 15, 20, 30 }.Select(curve.At));
        Assert.Equal(60, curve.PeakBytes);
    }

    [Fact]
    public void From_PurgeAndWriteAtOneInstant_HappenTogether()
    {
        OccupancyCurve curve = OccupancyCurve.From(
            OccupancyChange.Written(0, 0, 100), OccupancyChange.Purged(5, 5, 100), OccupancyChange.Written(5, 5, 100));
        Assert.Equal(100, curve.PeakBytes);
    }

    [Fact]
    public void From_MorePurgedThanWritten_IsRefusedNamingTheInstant()
    {
        ArgumentException thrown = Assert.Throws<ArgumentException>(() => OccupancyCurve.From(OccupancyChange.Written(0, 10, 100), OccupancyChange.Purged(5, 5, 51)));
        Assert.Contains("At 5", thrown.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void From_NineExabytes_IsExactAndBeyondIsRefused()
    {
        OccupancyCurve curve = OccupancyCurve.From(OccupancyChange.Written(0, 7, 9_000_000_000_000_000_000));
        Assert.Equal(1_285_714_285_714_285_714, curve.At(1));
        Assert.Equal(9_000_000_000_000_000_000, curve.PeakBytes);
        Assert.Throws<OverflowException>(() => OccupancyCurve.From(
            OccupancyChange.Written(0, 7, 9_000_000_000_000_000_000), OccupancyChange.Written(0, 7, 300_000_000_000_000_000)));
    }

    // Properties: the balance holds, and the curve equals counting each change alone at every corner.
    [Fact]
    public void From_AnyGenerations_BalancesAndEqualsTheSumOfItsChanges() =>
        AnyChanges.Sample(changes =>
        {
            OccupancyCurve curve = OccupancyCurve.From(changes);
            Assert.Equal(curve.Written - curve.Purged, curve.FinalBytes);
            foreach ((long instant, long before, long after) in curve.Corners)
            {
                Assert.Equal(changes.Sum(c => c.MovedBy(instant)), after);
                Assert.Equal(changes.Where(c => c.From < instant).Sum(c => c.MovedBy(instant)), before);
                Assert.InRange(after, 0, curve.PeakBytes);
            }
        });

    [Fact]
    public void DailyPeaks_AnyGenerations_HoldTheWholePeakAndNothingMore() =>
        AnyChanges.Sample(changes =>
        {
            OccupancyCurve curve = OccupancyCurve.From(changes);
            long[] peaks = new long[30];
            curve.DailyPeaks(0, 7, peaks);
            Assert.Equal(curve.PeakBytes, peaks.Max());
            for (int day = 0; day < peaks.Length; day++)
            {
                long slow = Enumerable.Range(day * 7, 7).Max(t => curve.At(t));
                Assert.True(peaks[day] >= slow);
            }
        });

    [Fact]
    public void TwiceArea_AnyGenerations_AddsUpOverParts() =>
        Gen.Select(AnyChanges, Gen.Long[0, 60]).Sample((changes, cut) =>
        {
            OccupancyCurve curve = OccupancyCurve.From(changes);
            // The line between two corners is cut at whole bytes, so a cut moves the area by less than a byte a unit of time.
            Int128 difference = curve.TwiceArea(-5, 130) - curve.TwiceArea(-5, cut) - curve.TwiceArea(cut, 130);
            Assert.InRange((long)difference, -140, 140);
        });
}
