using CsCheck;
using PostPipeline.Flows;
using PostPipeline.Footage.Stores;
using PostPipeline.Quantities;
using Xunit;

namespace PostPipeline.Domain.Tests.Footage;

public class StorageTests
{
    private const long Day = 86_400;
    private const long Originals = 71_663_616_000_000;
    private static readonly Tier Online = new("online", redundancy: new(5, 4));
    private static readonly Tier Nearline = new("nearline");

    // Worked example (invented inputs, common practice, no source): originals 71.663616 TB, mezzanine 0.8231×, intra proxies
    // 0.04259×, renders 2.0 TB (4.0 for proxy), caches 15 %, trimmed pull 0.83 TB; the peaks online / nearline in TB.
    [Theory]
    [InlineData("native", 84.41, 0)]
    [InlineData("transcode online", 132.65, 0)]
    [InlineData("transcode nearline", 60.99, 71.66)]
    [InlineData("proxy", 7.88, 71.66)]
    public void StoragePlan_Pipelines_HaveTheirPeaks(string pipeline, double online, double nearline)
    {
        Generation originals = new("originals", pipeline is "native" or "transcode online" ? "online" : "nearline", Originals, 0, 25 * Day);
        Generation mezzanine = new("mezzanine", "online", Share(8231), 0, 26 * Day) { PurgeSeconds = 300 * Day, PurgeTrigger = "delivery accepted, and 3 to 6 months" };
        Generation[] generations = pipeline switch
        {
            "native" => [originals, new("caches", "online", Share(1500), 30 * Day, 60 * Day) { PurgeSeconds = 120 * Day }, Renders(2)],
            "proxy" => [originals, new("proxies", "online", Share(426) - Share(1) / 10, 0, 26 * Day), new("pull", "online", 830_000_000_000, 90 * Day, 91 * Day), Renders(4)],
            _ => [originals, mezzanine, Renders(2)],
        };
        StoragePlan plan = StoragePlan.Of(generations, [Online, Nearline]);
        Assert.Equal((online, nearline), (Terabytes(plan.Tiers[0].Curve.PeakBytes), Terabytes(plan.Tiers[1].Curve.PeakBytes)));
        Assert.All(plan.Tiers, t => Assert.Equal(t.Curve.PeakBytes, t.AtPeak.Sum(p => p.Bytes)));

        // To buy online: ÷ 0.8 free, × 1.25 for 8+2.
        Assert.Equal((plan.Tiers[0].Curve.PeakBytes * 25L + 15) / 16, plan.Tiers[0].ToBuyBytes);
    }

    [Fact]
    public void TierPlan_Bought_ReachesItsAlarms()
    {
        Tier tier = new("online", 100_000, Rational.Zero);
        TierPlan plan = StoragePlan.Of([new("originals", "online", 100_000, 0, 1000)], [tier]).Tiers[0];
        Assert.Equal((800, 900, null), (plan.AlarmSeconds, plan.StopIngestSeconds, plan.FullSeconds));
        TierPlan over = StoragePlan.Of([new("originals", "online", 200_000, 0, 1000)], [tier]).Tiers[0];
        Assert.Equal((400, 450, 501, -100_000), (over.AlarmSeconds, over.StopIngestSeconds, over.FullSeconds, over.SpareBytes));
    }

    [Fact]
    public void StoragePlan_UnknownTier_IsRefusedNamingIt()
    {
        ArgumentException thrown = Assert.Throws<ArgumentException>(() => StoragePlan.Of([new("originals", "onlin", 1, 0, 1)], [Online, Nearline]));
        Assert.Contains("'onlin', which is not listed; listed are online, nearline", thrown.Message, StringComparison.Ordinal);
    }

    // 8+2 costs ×1.25, 10+2 ×1.2; rebuild = drive ÷ rate (common practice, no source).
    [Fact]
    public void DiskSet_Groups_GiveWhatCanBePlanned()
    {
        DiskSet set = DiskSet.From(24, DataSize.FromBytes(20_000_000_000_000), 8, 2, 2);
        Assert.Equal((2, 480, 320, 256), (set.Groups, set.Raw.Terabytes, set.Usable.Terabytes, set.Plannable.Terabytes));
        Assert.Equal((new Rational(5, 4), new Rational(6, 5)), (set.CostFactor, DiskSet.From(12, set.Drive, 10, 2).CostFactor));
        Assert.Equal(100_000, set.RebuildSeconds(DataRate.FromBytesPerSecond(200_000_000)));
    }

    // Property: what is on a tier is what was written less what was purged, and all tiers together are the sum.
    [Fact]
    public void StoragePlan_AnyGenerations_Balances() =>
        Gen.Select(Gen.Long[0, 1_000_000], Gen.Int[1, 3], Gen.Long[0, 100], Gen.Long[0, 50], Gen.Long[0, 100], Gen.Int[0, 2]).List[1, 12].Sample(rows =>
        {
            Generation[] generations = [.. rows.Select((r, i) => new Generation($"g{i}", r.Item6 == 0 ? "online" : "nearline", r.Item1, r.Item3, r.Item3 + r.Item4)
            {
                Copies = r.Item2,
                PurgeSeconds = r.Item6 == 1 ? null : r.Item3 + r.Item4 + r.Item5,
            })];
            StoragePlan plan = StoragePlan.Of(generations, [Online, Nearline]);
            long kept = generations.Where(g => g.PurgeSeconds is null).Sum(g => g.TotalBytes);
            Assert.Equal(kept, plan.Tiers.Sum(t => t.Curve.FinalBytes));
            for (long t = 0; t <= 260; t++)
            {
                // Between corners each curve is cut at whole bytes, so two curves may differ from their sum by one.
                Assert.InRange(plan.Tiers.Sum(x => x.Curve.At(t)) - plan.All.At(t), -12, 12);
            }

            Assert.All(plan.Tiers, t => Assert.Equal(t.Curve.PeakBytes, t.AtPeak.Sum(p => p.Bytes)));
        });

    private static Generation Renders(int terabytes) => new("renders", "online", terabytes * 1_000_000_000_000L, 100 * Day, 110 * Day);

    private static long Share(long tenThousandths) => Originals / 10_000 * tenThousandths;

    private static double Terabytes(long bytes) => Math.Round(bytes / 1e12, 2);
}
