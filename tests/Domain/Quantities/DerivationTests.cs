using PostPipeline.Footage.Codings;
using PostPipeline.Footage.Offloads;
using PostPipeline.Footage.Rates;
using PostPipeline.Footage.Recordings;
using PostPipeline.Footage.Stores;
using PostPipeline.Quantities;
using Xunit;

namespace PostPipeline.Domain.Tests.Quantities;

public class DerivationTests
{
    private static readonly RecordingMode ClipR = new(CodingCatalogue.Standard.Find("raw-12-3to1"), Raster.From(4096, 2160), FrameRate.From(96)) { Audio = AudioTracks.From(2) };

    [Fact]
    public void Margins_TheSameTwice_IsAnError()
    {
        Derivation Marked(params Derivation[] inputs) => new() { Name = "x", Value = "1", Margin = "headroom", Inputs = inputs };
        Assert.Equal(["headroom"], Marked().Margins());
        InvalidOperationException thrown = Assert.Throws<InvalidOperationException>(() => Marked(Marked()).Margins());
        Assert.Contains("'headroom' stands twice", thrown.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Margins_OneNumberUsedInTwoPlaces_CountsOnce()
    {
        Derivation shared = new() { Name = "x", Value = "1", Margin = "headroom" };
        Assert.Equal(["headroom"], new Derivation { Name = "y", Value = "2", Inputs = [shared, shared] }.Margins());
    }

    // The numbers of the tree are those of the answer, down to raster, bits and source.
    [Fact]
    public void RateExplanation_ReferenceClip_LeadsDownToItsSource()
    {
        Derivation tree = RateExplanation.Of(ClipR, ClipR.Estimate());
        Assert.Equal(((424_673_280 + 288_000).ToString(), "B/s"), (tree.Value, tree.Unit));
        Derivation frame = tree.Inputs[0].Inputs[0];
        Assert.Equal(("4423680", "the stated ratio; base: depth × photosites"), (frame.Value, frame.Source));
        Assert.Contains(frame.Inputs, i => i is { Name: "ratio", Value: "3", Unit: "to 1 against 12-bit photosites" });
        Assert.Empty(tree.Margins());
    }

    [Fact]
    public void RecordingExplanation_Burst_NamesEachMarginOnce()
    {
        WriteCeiling ceiling = WriteCeiling.From(DataRate.FromBytesPerSecond(450_000_000));
        SustainedCheck check = SustainedCheck.Of(ClipR, ceiling);
        DataSize card = DataSize.FromBytes(512_000_000_000);
        MediaLife life = MediaLife.Of(card, ClipR.Estimate().Average, ClipR.SensorRate, ClipR.SensorRate, new(1, 50));
        CaptureBuffer buffer = CaptureBuffer.FromSize(DataSize.FromBytes(10_000_000_000)) with { Drain = DrainBehaviour.FromTrigger };
        BurstWindow burst = BurstWindow.Of(check.Needed, ClipR.SensorRate, ClipR.SensorRate, ceiling, buffer)!;
        Derivation tree = RecordingExplanation.Of(check, 4_423_680, ClipR.SensorRate, 288_000, ClipR.Estimate().Average, life, card, new(1, 50), burst, buffer);
        Assert.Equal("fail", tree.Value);
        Assert.Equal(["trusted part of the media rating", "reserve on the medium"], tree.Margins());
        Assert.Contains(tree.Inputs[1].Inputs, i => i is { Name: "trusted part", Known: Known.Invented });
    }

    [Fact]
    public void StorageExplanation_Tier_NamesFreeSpaceAndRedundancyOnce()
    {
        TierPlan plan = StoragePlan.Of([new("originals", "online", 1000, 0, 10)], [new("online", redundancy: new(5, 4))]).Tiers[0];
        Derivation tree = StorageExplanation.Of(plan);
        Assert.Equal((plan.ToBuyBytes.ToString(), "1563"), (tree.Value, tree.Value));
        Assert.Equal(["redundancy of the array (it is not a copy)", "free space"], tree.Margins());
    }

    [Fact]
    public void OffloadExplanation_Card_AddsUpToItsTime()
    {
        OffloadMeans means = new(1, 800e6, [new("first", 1200e6), new("second", 250e6)]) { Verify = VerifyLevel.SourceAndDestinations };
        Derivation tree = OffloadExplanation.Of(means, 512_000_000_000, 10);
        Assert.Equal("4736", tree.Value);
        Assert.Equal(["2048", "2688"], tree.Inputs.Select(i => i.Value));
    }
}
