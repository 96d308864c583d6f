using System.Text;
using PostPipeline.Quantities;
using PostPipeline.Timecodes;
using PostPipeline.Timecodes.Conforming;
using PostPipeline.Timecodes.Inventories;
using Xunit;

namespace PostPipeline.Domain.Tests.Timecodes.Conforming;

/// <summary>The rungs and classes of the ladder, one by one. Common practice, no source.</summary>
public class ConformerTests
{
    private static readonly TimecodeFormat F24 = TimecodeFormat.Fps24;

    [Fact]
    public void Match_FullName_IsRungOneWhateverExtensionAndCase() =>
        Expect(Match(Event("a001_c002", "X", "01:00:10:00", 48), Clip("A001_C002.mxf", "A001", "01:00:00:00", 1000)), ConformClass.Matched, MatchRung.FullName, 0);

    [Fact]
    public void Match_ReelOnly_IsRungTwo() =>
        Expect(Match(Event(string.Empty, "A001", "01:00:10:00", 48), Clip("A001_C002", "A001", "01:00:00:00", 1000)), ConformClass.Matched, MatchRung.Reel, 0);

    [Fact]
    public void Match_TruncatedReel_IsRungThreeAndToBeConfirmed()
    {
        EventMatch match = Match(Event(string.Empty, "KESTREL_", "01:00:10:00", 48), Clip("X1", "KESTREL_07", "01:00:00:00", 1000));
        Expect(match, ConformClass.Matched, MatchRung.TruncatedReel, 0);
        Assert.True(match.NeedsPerson);
    }

    // Worked example: at 8 characters KESTREL_07 and KESTREL_08 merge, and so do K07-0031-D12 and K07-0031-D13 (common practice, no source).
    [Theory]
    [InlineData("KESTREL_07", "KESTREL_08", "KESTREL_")]
    [InlineData("K07-0031-D12", "K07-0031-D13", "K07-0031")]
    public void Match_TwoReelsMergedByTruncation_AreSeveralCandidates(string one, string two, string inList)
    {
        EventMatch match = Match(
            Event(string.Empty, inList, "01:00:10:00", 48), Clip("X1", one, "01:00:00:00", 1000), Clip("X2", two, "01:00:00:00", 1000));
        Expect(match, ConformClass.SeveralCandidates, MatchRung.TruncatedReel, 0);
        Assert.Equal(2, match.Candidates);
    }

    [Fact]
    public void Match_InventoryReelCutOff_IsRungThreeToo() =>
        Expect(Match(Event(string.Empty, "KESTREL_07", "01:00:10:00", 48), Clip("X1", "KESTREL_", "01:00:00:00", 1000)), ConformClass.Matched, MatchRung.TruncatedReel, 0);

    [Fact]
    public void Match_OnlyTimecodeAndCamera_IsRungFour()
    {
        EventMatch match = Match(
            Event(string.Empty, "A777", "01:00:10:00", 48),
            Clip("X1", "R1", "01:00:00:00", 1000) with { Camera = "B" },
            Clip("X2", "R2", "01:00:00:00", 1000) with { Camera = "A" });
        Expect(match, ConformClass.Matched, MatchRung.CameraOrDate, 1);
        Assert.True(match.NeedsPerson);
    }

    [Fact]
    public void Match_OnlyTimecodeAndDate_IsRungFour()
    {
        EventMatch match = Match(
            Event(string.Empty, "ZZ", "01:00:10:00", 48) with { Date = new(2031, 5, 2) },
            Clip("X1", "R1", "01:00:00:00", 1000) with { Date = new(2031, 5, 1) },
            Clip("X2", "R2", "01:00:00:00", 1000) with { Date = new(2031, 5, 2) });
        Expect(match, ConformClass.Matched, MatchRung.CameraOrDate, 1);
    }

    [Fact]
    public void Match_TimecodeAlone_IsNeverEnough() =>
        Expect(Match(Event("NOBODY", "ZZ", "01:00:10:00", 48), Clip("X1", "R1", "01:00:00:00", 1000)), ConformClass.None, MatchRung.Person, -1);

    [Fact]
    public void Match_SameNameOnTwoCards_ReelTellsThemApart() =>
        Expect(
            Match(Event("CLIP0001", "B002", "01:00:10:00", 48), Clip("CLIP0001", "A001", "01:00:00:00", 1000), Clip("CLIP0001", "B002", "01:00:00:00", 1000)),
            ConformClass.Matched,
            MatchRung.FullName,
            1);

    [Fact]
    public void Match_DuplicateReelsWithOverlappingLabels_AreSeveralCandidates() =>
        Expect(
            Match(Event(string.Empty, "A001", "01:00:10:00", 48), Clip("X1", "A001", "01:00:00:00", 1000), Clip("X2", "A001", "01:00:05:00", 1000)),
            ConformClass.SeveralCandidates,
            MatchRung.Reel,
            0);

    [Fact]
    public void Match_RateDiffers_IsARateConflict()
    {
        // 24 and 24000/1001 number frames alike (SMPTE ST 12-1), so only the rate tells them apart.
        Clip clip = Clip("A001_C002", "A001", "01:00:00:00", 1000) with { Format = TimecodeFormat.Fps24000Over1001 };
        Expect(Match(Event("A001_C002", "A001", "01:00:10:00", 48), clip), ConformClass.RateConflict, MatchRung.FullName, 0);
        Expect(Match(Event(string.Empty, "A001", "01:00:10:00", 48), clip), ConformClass.RateConflict, MatchRung.Reel, 0);
    }

    [Fact]
    public void Match_DropFlagDiffers_IsADropFlagConflict()
    {
        TimecodeFormat drop = TimecodeFormat.Fps30000Over1001Drop;
        Clip clip = new() { Name = "A001_C002", Reel = "A001", Format = drop, Start = Timecode.Parse("01:00:00;00", drop).FrameIndex, Frames = 3000 };
        CutEvent item = Event("A001_C002", "A001", "01:00:10:00", 48, TimecodeFormat.Fps30000Over1001);
        Expect(Match(item, clip), ConformClass.DropFlagConflict, MatchRung.FullName, 0);
    }

    [Theory]
    [InlineData("00:59:59:23", 48, ConformClass.OutsideFile)]
    [InlineData("01:00:00:00", 48, ConformClass.Matched)]
    [InlineData("01:00:39:16", 48, ConformClass.Matched)]
    [InlineData("01:00:39:17", 48, ConformClass.OutsideFile)]
    [InlineData("01:00:00:00", 1000, ConformClass.Matched)]
    [InlineData("01:00:00:00", 1001, ConformClass.OutsideFile)]
    public void Match_EveryBorderOfTheFile_IsExact(string from, int frames, ConformClass expected) =>
        Expect(Match(Event("C", "C", from, frames), Clip("C", "C", "01:00:00:00", 1000)), expected, MatchRung.FullName, 0);

    [Fact]
    public void Match_ShortHandles_SaysHowManyThereAre()
    {
        EventMatch match = Match(Event("C", "C", "01:00:00:10", 48), 16, Clip("C", "C", "01:00:00:00", 70));
        Expect(match, ConformClass.ShortHandles, MatchRung.FullName, 0);
        Assert.Equal((10L, 12L), (match.HandleBefore, match.HandleBehind));
    }

    [Fact]
    public void Match_OverMidnight_FindsTheFrames()
    {
        Clip clip = Clip("C", "C", "23:58:30:00", 3600);
        EventMatch match = Match(Event("C", "C", "23:59:59:12", 24), clip);
        Expect(match, ConformClass.Matched, MatchRung.FullName, 0);
        Assert.True(match.Findings.HasFlag(ConformFindings.OverMidnight));
        // 23:58:30:00 to 00:00:10:00 are 90 s + 10 s = 2,400 frames at 24.
        EventMatch after = Match(Event(string.Empty, "C", "00:00:10:00", 24), clip);
        Expect(after, ConformClass.Matched, MatchRung.Reel, 0);
        Assert.Equal(2400, after.Need.First);
    }

    [Fact]
    public void Match_MissingChunk_IsSaidAndOtherChunksServe()
    {
        Clip[] chunks =
        [
            Clip("T_001", "A001", "01:00:00:00", 240) with { Take = "T", Chunk = 1, Chunks = 4 },
            Clip("T_003", "A001", "01:00:20:00", 240) with { Take = "T", Chunk = 3, Chunks = 4 },
        ];
        Assert.Equal(ConformClass.Matched, Match(Event("T", "A001", "01:00:05:00", 48), chunks).Class);
        Assert.Equal(ConformClass.ChunkMissing, Match(Event("T", "A001", "01:00:12:00", 48), chunks).Class);
        Assert.Equal(ConformClass.ChunkMissing, Match(Event("T", "A001", "01:00:09:12", 48), chunks).Class);
        Assert.Equal(ConformClass.ChunkMissing, Match(Event("T", "A001", "01:00:35:00", 48), chunks).Class);
        Assert.Equal(ConformClass.ChunkMissing, Match(Event(string.Empty, "A001", "01:00:35:00", 48), chunks).Class);
        EventMatch nearGap = Match(Event("T", "A001", "01:00:09:00", 20), 16, chunks);
        Assert.Equal((ConformClass.ShortHandles, 16L, 4L), (nearGap.Class, nearGap.HandleBefore, nearGap.HandleBehind));
    }

    [Fact]
    public void Match_ClipWithoutLabels_IsForAPerson()
    {
        EventMatch match = Match(Event("C", "C", "01:00:00:00", 48), Clip("C", "C", "01:00:00:00", 100) with { Start = null });
        Expect(match, ConformClass.None, MatchRung.Person, 0);
        Assert.True(match.Findings.HasFlag(ConformFindings.NoLabels));
    }

    [Fact]
    public void Match_ProxyName_LeadsToTheOriginal()
    {
        Clip original = Clip("A001_C002", "A001", "01:00:00:00", 1000);
        Clip proxy = Clip("A001_C002_PX", "PX", "01:00:00:00", 1000) with { Kind = ClipKind.Proxy };
        EventMatch match = Match(Event("A001_C002_PX", "OTHER", "01:00:10:00", 48), original, proxy);
        Expect(match, ConformClass.Matched, MatchRung.FullName, 0);
        Assert.False(match.NeedsPerson);
        // A proxy that restarts at one hour: frame n is still frame n, but a person confirms it.
        EventMatch restarted = Match(Event("A001_C002_PX", "OTHER", "01:00:10:00", 48), original with { Start = 5_000 }, proxy);
        Expect(restarted, ConformClass.Matched, MatchRung.FullName, 0);
        Assert.Equal(240, restarted.Need.First);
        Assert.True(restarted.NeedsPerson);
    }

    // Worked example (common practice, no source): 120 record frames at 1:1 of a 96-fps clip use 152 source frames with
    // 16-frame handles; at 400 % they use 480 + 2·16·4 = 608.
    [Theory]
    [InlineData(1, 120, 152)]
    [InlineData(4, 480, 608)]
    public void Need_SpeedAndHandles_GrowTogether(int speed, int sourceFrames, int expected)
    {
        CutEvent item = Event("C", "C", "01:00:10:00", sourceFrames) with
        {
            RecordFrames = 120,
            Speed = speed,
            SpeedOrigin = speed == 1 ? SpeedOrigin.NormalSpeed : SpeedOrigin.Stated,
        };
        Assert.Equal(expected, item.Need(16).Frames);
        EventMatch match = Match(item, 16, Clip("C", "C", "01:00:00:00", 1000) with { SensorRate = FrameRate.From(96, 1) });
        Assert.Equal(expected, match.Need.Frames + match.HandleBefore + match.HandleBehind);
        Assert.Equal(speed == 1 ? ConformClass.Matched : ConformClass.SpeedToCheck, match.Class);
        Assert.True(match.Findings.HasFlag(ConformFindings.OffSpeedClip));
    }

    [Fact]
    public void Need_ReverseAndFreeze_TakeTheRightFrames()
    {
        CutEvent item = Event("C", "C", "01:00:10:00", 48) with { Speed = -2, SpeedOrigin = SpeedOrigin.Stated };
        Assert.Equal(new SourceSpan(item.SourceIn + 48 - 96, 96), item.Need());
        CutEvent held = Event("C", "C", "01:00:10:00", 1) with { RecordFrames = 48, Speed = 0, SpeedOrigin = SpeedOrigin.Stated };
        Assert.Equal(new SourceSpan(held.SourceIn, 1), held.Need(16));
    }

    [Fact]
    public void Match_BlackAndAuxiliary_AreNotTakenForClips()
    {
        Expect(Match(Event("C", string.Empty, "01:00:00:00", 48) with { Source = SourceKind.Black }, Clip("C", "C", "01:00:00:00", 100)), ConformClass.NotSought, MatchRung.NotSought, -1);
        Expect(Match(Event(string.Empty, string.Empty, "01:00:00:00", 48) with { Source = SourceKind.Auxiliary }, Clip("C", "C", "01:00:00:00", 100)), ConformClass.None, MatchRung.Person, -1);
        Expect(Match(Event("C", "C", "01:00:00:00", 48) with { Tracks = "A2" }, Clip("C", "C", "01:00:00:00", 100)), ConformClass.NotSought, MatchRung.NotSought, -1);
    }

    [Fact]
    public void NextStep_EveryClass_SaysWhatToDo()
    {
        foreach (ConformClass value in Enum.GetValues<ConformClass>())
        {
            Assert.NotEmpty(ConformAdvice.NextStep(default(EventMatch) with { Class = value }));
            Assert.NotEmpty(ConformAdvice.Describe(value));
        }
    }

    private static CutEvent Event(string name, string reel, string from, long frames, TimecodeFormat? format = null) => new()
    {
        ClipName = name,
        Reel = reel,
        SourceFormat = format ?? F24,
        SourceIn = Timecode.Parse(from, format ?? F24).FrameIndex,
        SourceFrames = frames,
        RecordFrames = frames,
    };

    private static Clip Clip(string name, string reel, string start, long frames) =>
        new() { Name = name, Reel = reel, Format = F24, Start = Timecode.Parse(start, F24).FrameIndex, Frames = frames, Trimmable = Trimmability.Yes };

    private static EventMatch Match(CutEvent item, params Clip[] clips) => Match(item, 0, clips);

    private static EventMatch Match(CutEvent item, int handles, params Clip[] clips)
    {
        InventoryBuilder builder = new();
        foreach (Clip clip in clips)
        {
            builder.Add(clip);
        }

        return new Conformer(builder.Build(), new() { HandleFrames = handles }).Match(item);
    }

    private static void Expect(EventMatch match, ConformClass expected, MatchRung rung, int row) =>
        Assert.Equal((expected, rung, row), (match.Class, match.Rung, match.Row));
}
