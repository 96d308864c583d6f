using CsCheck;
using PostPipeline.Footage.Codings;
using PostPipeline.Footage.Rates;
using PostPipeline.Footage.Recordings;
using PostPipeline.Quantities;
using Xunit;

namespace PostPipeline.Domain.Tests.Footage;

// Worked examples on the reference clip R (invented inputs, common practice, no source; the arithmetic is exact).
public class RecordingTests
{
    private static readonly Raster Cinema4K = Raster.From(4096, 2160);
    private static readonly RecordingMode ClipR = new(CodingCatalogue.Standard.Find("raw-12-3to1"), Cinema4K, FrameRate.Fps24);
    private static readonly DataSize Card = DataSize.FromBytes(512_000_000_000);

    [Fact]
    public void MediaLife_ReferenceClip_HasItsMinutes()
    {
        MediaLife plain = MediaLife.Of(Card, ClipR.Estimate().Average, ClipR.SensorRate, ClipR.ProjectRate);
        Assert.Equal(80.38, Math.Round(plain.RecordMinutes, 2));
        Assert.Equal(512_000_000_000 / 4_423_680, plain.Frames);
        MediaLife reserved = MediaLife.Of(Card, ClipR.Estimate().Average, ClipR.SensorRate, ClipR.ProjectRate, new(1, 50), new(1, 50));
        Assert.Equal(77.22, Math.Round(reserved.RecordMinutes, 2));
        Assert.Equal(309, Math.Round(reserved.ClockSeconds(new(1, 4)).ToDouble() / 60));
        RecordingMode film = ClipR with { SensorRate = FrameRate.Fps24000Over1001, ProjectRate = FrameRate.Fps24000Over1001 };
        Assert.Equal(80.46, Math.Round(MediaLife.Of(Card, film.Estimate().Average, film.SensorRate, film.ProjectRate).RecordMinutes, 2));
    }

    [Fact]
    public void SustainedCheck_OverCranked_FailsAndSaysWhatWouldPass()
    {
        RecordingMode fast = ClipR with { SensorRate = FrameRate.From(96) };
        Assert.Equal(424.67, Math.Round(fast.Estimate().Average.MegabytesPerSecond, 2));
        MediaLife life = MediaLife.Of(Card, fast.Estimate().Average, fast.SensorRate, fast.ProjectRate);
        Assert.Equal((20.09, 80.38), (Math.Round(life.RecordMinutes, 2), Math.Round(life.ScreenSeconds.ToDouble() / 60, 2)));
        Assert.Equal(4, fast.SlowFactor);

        WriteCeiling ceiling = Ceiling(450);
        Assert.Equal(382.5, ceiling.Rate.MegabytesPerSecond);
        SustainedCheck check = SustainedCheck.Of(fast, ceiling, Evidence.Holds);
        Assert.False(check.WithinCeiling);
        Assert.False(check.Passes);
        Assert.Equal(3.3308, Math.Round(3 * check.FurtherRatioNeeded!.Value.ToDouble(), 4));
        Assert.Equal(new Rational(334, 100), check.RatioNeeded(3));
        Assert.True(check.WouldCarry(new Rational(334, 300)));
        Assert.False(check.WouldCarry(new Rational(333, 300)));
        Assert.Equal(86, check.HighestWholeRate);
        Assert.True(check.WouldCarry(FrameRate.From(86)));
        Assert.False(check.WouldCarry(FrameRate.From(87)));
        Raster raster = check.LargestRaster(fast)!.Value;
        Assert.True(SustainedCheck.Of(fast with { Raster = raster }, ceiling).WithinCeiling);
        Assert.False(SustainedCheck.Of(fast with { Raster = Raster.From(raster.Width + 2, (int)((raster.Width + 2L) * 2160 / 4096 / 2 * 2)) }, ceiling).WithinCeiling);
    }

    // Facts of the trade (common practice, no source): a 12-bit raw recorder at 3.6:1.
    [Fact]
    public void SustainedCheck_CeilingThatSustains2048At240_NeedsAWindowFor4096At120AndSustains4096At60()
    {
        Coding coding = CodingCatalogue.Standard.Find("raw-12-3.6to1");
        RecordingMode small = new(coding, Raster.From(2048, 1080), FrameRate.From(240));
        Assert.Equal(221.184, small.Estimate().Average.MegabytesPerSecond);
        WriteCeiling ceiling = WriteCeiling.From(small.Estimate().Average, 1);
        RecordingMode large = new(coding, Cinema4K, FrameRate.From(120));
        Assert.Equal(442.368, large.Estimate().Average.MegabytesPerSecond);

        Assert.True(SustainedCheck.Of(small, ceiling).WithinCeiling);
        Assert.False(SustainedCheck.Of(large, ceiling).WithinCeiling);
        Assert.True(SustainedCheck.Of(large with { SensorRate = FrameRate.From(60) }, ceiling).WithinCeiling);
        Assert.Equal(60, SustainedCheck.Of(large, ceiling).HighestWholeRate);

        // A buffer stated to hold 4 to 5 s of it: 1.77 to 2.21 GB.
        CaptureBuffer buffer = CaptureBuffer.FromStatedSeconds(4, large.Estimate().Average);
        BurstWindow window = BurstWindow.Of(large.Estimate().Average, large.SensorRate, FrameRate.Fps24, ceiling, buffer)!;
        Assert.Equal((4, 480), (window.WindowSeconds, window.Frames));
        Assert.Equal(4, Cinema4K.Pixels / Raster.From(2048, 1080).Pixels);
        Assert.Equal(1.896, Math.Round(4096.0 / 2160, 3));
    }

    [Theory]
    [InlineData(Evidence.Unknown, null)]
    [InlineData(Evidence.Holds, true)]
    [InlineData(Evidence.Fails, false)]
    public void Passes_WithinCeiling_NeedsEvidence(Evidence evidence, bool? passes) =>
        Assert.Equal(passes, SustainedCheck.Of(ClipR, Ceiling(450), evidence).Passes);

    [Fact]
    public void SustainedCheck_RateEqualToCeiling_IsWithin() =>
        Assert.True(SustainedCheck.Of(ClipR, WriteCeiling.From(ClipR.Estimate().Peak, 1)).WithinCeiling);

    [Theory]
    [InlineData(DrainBehaviour.AfterCapture, 0, 15.07, 7233)]
    [InlineData(DrainBehaviour.Unknown, 0, 15.07, 7233)]
    [InlineData(DrainBehaviour.FromTrigger, 0, 17.55, 8423)]
    [InlineData(DrainBehaviour.FromTrigger, 1, 16.22, 7783)]
    [InlineData(DrainBehaviour.FromTrigger, 2, 15.07, 7233)]
    public void BurstWindow_Uncompressed480_HasItsSecondsByTriggerAndDrain(DrainBehaviour drain, int halves, double seconds, long frames)
    {
        RecordingMode mode = new(CodingCatalogue.Standard.Find("raw-12"), Cinema4K, FrameRate.From(480));
        Assert.Equal(6370.1, Math.Round(mode.Estimate().Average.MegabytesPerSecond, 1));
        CaptureBuffer buffer = CaptureBuffer.FromSize(DataSize.FromBytes(96_000_000_000)) with { Drain = drain, TriggerPosition = new(halves, 2) };
        BurstWindow window = BurstWindow.Of(mode.Estimate().Average, mode.SensorRate, FrameRate.Fps24, WriteCeiling.From(Megabytes(900), 1), buffer)!;
        Assert.Equal((seconds, frames), (Math.Round(window.WindowSeconds.ToDouble(), 2), window.Frames));
        Assert.Equal(106.7, Math.Round(window.DrainSeconds.ToDouble(), 1));
        Assert.Equal(96_000_000_000, window.BytesAtRisk.Bytes);
        if (frames == 7233)
        {
            Assert.Equal(301.4, Math.Round(window.ScreenSeconds.ToDouble(), 1));
        }
    }

    [Fact]
    public void BurstWindow_Partitions_DivideTheWindowAndNotTheRisk()
    {
        DataRate incoming = Megabytes(1000);
        CaptureBuffer whole = CaptureBuffer.FromSize(DataSize.FromBytes(12_000_000_000)) with { ResetSeconds = 2 };
        WriteCeiling ceiling = WriteCeiling.From(Megabytes(500), 1);
        BurstWindow one = BurstWindow.Of(incoming, FrameRate.From(100), FrameRate.Fps25, ceiling, whole)!;
        BurstWindow four = BurstWindow.Of(incoming, FrameRate.From(100), FrameRate.Fps25, ceiling, whole with { Partitions = 4 })!;
        Assert.Equal((12, 3), (one.WindowSeconds, four.WindowSeconds));
        Assert.Equal(3600 / new Rational(12 + 24 + 2, 1), one.TakesPerHour);
        Assert.Equal(one.BytesAtRisk, four.BytesAtRisk);
        Assert.Equal(1200, one.FramesAtRisk);
    }

    [Fact]
    public void CaptureBuffer_FromReadyAgain_IsWhatTheMediumTookInThatTime() =>
        Assert.Equal(45_000_000_000, CaptureBuffer.FromReadyAgain(95, 5, WriteCeiling.From(Megabytes(500), 1)).Capacity.Bytes);

    [Fact]
    public void BurstWindow_DrainKeepsUp_NeverFills() =>
        Assert.Null(BurstWindow.Of(Megabytes(450), FrameRate.Fps24, FrameRate.Fps24, WriteCeiling.From(Megabytes(450), 1), CaptureBuffer.FromSize(Card) with { Drain = DrainBehaviour.FromTrigger }));

    // Properties: a later trigger never lengthens the window; the window's bytes are what came in less what drained.
    [Fact]
    public void BurstWindow_AnyTrigger_BalancesBytes() =>
        Gen.Select(Gen.Long[1, 2000], Gen.Long[1, 1999], Gen.Int[0, 100], Gen.Long[1, 500_000_000_000]).Sample((incoming, ceiling, percent, bytes) =>
        {
            CaptureBuffer buffer = CaptureBuffer.FromSize(DataSize.FromBytes(bytes)) with { Drain = DrainBehaviour.FromTrigger, TriggerPosition = new(percent, 100) };
            BurstWindow? window = BurstWindow.Of(Megabytes(incoming), FrameRate.From(100), FrameRate.Fps24, WriteCeiling.From(Megabytes(ceiling), 1), buffer);
            if (window is not null)
            {
                Rational drained = (window.WindowSeconds - window.SecondsBeforePress) * ceiling * 1_000_000;
                Assert.Equal(bytes, (window.WindowSeconds * incoming * 1_000_000) - drained);
                BurstWindow latest = BurstWindow.Of(Megabytes(incoming), FrameRate.From(100), FrameRate.Fps24, WriteCeiling.From(Megabytes(ceiling), 1), buffer with { TriggerPosition = 1 })!;
                Assert.True(latest.WindowSeconds <= window.WindowSeconds);
            }
        });

    // Property: every required value, as printed, passes; one step less does not.
    [Fact]
    public void RatioNeeded_AnyMode_PassesAsPrintedAndOneStepLessDoesNot() =>
        Gen.Select(Gen.Long[1, 100_000_000], Gen.Int[1, 1000], Gen.Int[1, 3000], Gen.Int[0, 4]).Sample((bytes, rate, ceiling, decimals) =>
        {
            SustainedCheck check = SustainedCheck.Of(bytes, FrameRate.From(rate), 0, WriteCeiling.From(Megabytes(ceiling)));
            Rational ratio = check.RatioNeeded(1, decimals)!.Value;
            Rational step = new(1, (long)Math.Pow(10, decimals));
            Assert.True(check.WouldCarry(ratio));
            Assert.True(check.WithinCeiling || ratio - step < 1 || !check.WouldCarry(ratio - step));
            Assert.True(check.HighestWholeRate == 0 || check.WouldCarry(FrameRate.From(Math.Min(FrameRate.MaximumFramesPerSecond, check.HighestWholeRate))));
        });

    [Fact]
    public void ChunkedTake_ReferenceClipOnFat32_Is18FilesTheLastOf790()
    {
        ChunkedTake take = ChunkedTake.Cut(17_280, 4_423_680, ChunkLimit.Fat32);
        Assert.Equal((970, 18, 790), (take.FramesPerChunk, take.Count, take.LastFrames));
        Assert.Equal(1, ChunkedTake.Cut(17_280, 4_423_680, ChunkLimit.ExFat).Count);
        Assert.Throws<ArgumentOutOfRangeException>(() => ChunkedTake.Cut(10, 1L << 32, ChunkLimit.Fat32));
    }

    // Property: files sum to the take, each starts where the one before ends, none passes the limit, all but the last end on a group border.
    [Fact]
    public void ChunkedTake_AnyTake_SumsToTheTake() =>
        Gen.Select(Gen.Long[1, 20_000], Gen.Long[1, 5_000_000], Gen.Long[50_000_000, 16_000_000_000], Gen.Int[1, 10]).Sample((frames, bytes, limit, group) =>
        {
            ChunkedTake take = ChunkedTake.Cut(frames, bytes, ChunkLimit.From(DataSize.FromBytes(limit), group), 4096);
            Assert.Equal(frames, take.Chunks.Sum(c => c.Frames));
            Assert.Null(ChunkedTake.Incomplete(take.Chunks.Reverse(), frames));
            Assert.All(take.Chunks, c => Assert.InRange((c.Frames * bytes) + 4096, 4097, limit));
            Assert.All(take.Chunks.SkipLast(1), c => Assert.Equal(0, c.EndFrame % group));
            if (take.Count > 2)
            {
                Assert.NotNull(ChunkedTake.Incomplete(take.Chunks.Where(c => c.Index != 1), frames));
            }
        });

    [Fact]
    public void TakeTally_ThreeTakes_AddsUp()
    {
        TakeTally tally = TakeTally.Of([17_280, 970, 971], 4_423_680, 4_423_680, ChunkLimit.Fat32);
        Assert.Equal((3, 18 + 1 + 2, 19_221, 17_280), (tally.Takes, tally.Files, tally.Frames, tally.LongestFrames));
        Assert.Equal(19_221L * 4_423_680, tally.Bytes.Bytes);
    }

    // Worked example: 3 cameras × 2.5 h = 2.867 TB a day; 25 days 71.66 TB; 110 min at 25:1 would be 17.5 TB; the plan implies 102:1.
    [Fact]
    public void VolumeEstimates_ReferencePlan_AreFarApartAndFlagged()
    {
        VolumeEstimates volumes = VolumeEstimates.Of(25, 3, new(5, 2), 110 * 60, 25, ClipR.Estimate().Average);
        Assert.Equal(71_663_616_000_000, volumes.ByDays);
        Assert.Equal(2_866_544_640_000, VolumeEstimates.Of(1, 3, new(5, 2), 110 * 60, 25, ClipR.Estimate().Average).ByDays);
        Assert.Equal(17.5, Math.Round(volumes.ByRatio / 1e12, 1));
        Assert.Equal(102, Math.Round(volumes.ImpliedRatio.ToDouble()));
        Assert.True(volumes.Flagged);
        Assert.False(VolumeEstimates.Of(25, 3, new(5, 2), 110 * 60, 102, ClipR.Estimate().Average).Flagged);
    }

    [Fact]
    public void ModeShare_MixedDay_AddsModes()
    {
        RecordingMode fast = ClipR with { SensorRate = FrameRate.From(96) };
        Assert.Equal(4 * 106_168_320L * 60 + 106_168_320L * 3600, ModeShare.Total([new(ClipR, 3600), new(fast, 60)]).Bytes);
        Assert.Equal(5760, new ModeShare(fast, 60).Frames);
    }

    [Fact]
    public void RecordTimeTable_ModesByCards_HoldsEachLife()
    {
        RecordTimeTable table = RecordTimeTable.Of([ClipR, ClipR with { SensorRate = FrameRate.From(96) }], [Card, DataSize.FromBytes(1_024_000_000_000)]);
        Assert.Equal([80.38, 160.75, 20.09, 40.19], new[] { table[0, 0], table[0, 1], table[1, 0], table[1, 1] }.Select(l => Math.Round(l.RecordMinutes, 2)));
    }

    // Exact at 9 EB and refused beyond, never wrapped.
    [Fact]
    public void TakeTally_NineExabytes_IsExactAndBeyondIsRefused()
    {
        Assert.Equal(9_000_000_000_000_000_000, TakeTally.Of([900_000_000], 10_000_000_000, 10_000_000_000, ChunkLimit.ExFat).Bytes.Bytes);
        Assert.Throws<OverflowException>(() => TakeTally.Of([900_000_000, 100_000_000], 10_000_000_000, 10_000_000_000, ChunkLimit.ExFat));
    }

    private static DataRate Megabytes(long perSecond) => DataRate.FromBytesPerSecond(perSecond * 1_000_000);

    private static WriteCeiling Ceiling(long megabytesPerSecond) => WriteCeiling.From(Megabytes(megabytesPerSecond));
}
