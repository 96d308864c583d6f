using CsCheck;
using PostPipeline.Quantities;
using PostPipeline.Timecodes;
using PostPipeline.Timecodes.Generators;
using PostPipeline.Timecodes.Inventories;
using PostPipeline.Timecodes.OffSpeed;
using Xunit;

namespace PostPipeline.Domain.Tests.Timecodes;

public class ShootingDayTests
{
    private static readonly TimecodeFormat Film = TimecodeFormat.Fps24;

    private static readonly ShootingDaySettings ThreeCameras = new(
        Cameras: 3, Days: 2, TakesPerDay: 60, CallSeconds: 15 * 3600, DaySeconds: 11 * 3600, MeanTakeSeconds: 90,
        BaseSensor: FrameRate.Fps24, OffSpeedSensors: [FrameRate.From(48, 1), FrameRate.From(96, 1)], OffSpeedPercent: 20);

    [Fact]
    public void Label_FreeRun_GivesTheTimeOfDay()
    {
        IReadOnlyList<DayClip> clips = ShootingDay.Label(
            [Camera("A", TimecodeRun.Free)],
            [new(0, 9 * 3600, FrameRate.Fps24, 240), new(0, (9 * 3600) + 60, FrameRate.Fps24, 240), new(0, (23 * 3600) + 3599, FrameRate.Fps24, 48)],
            FrameRate.Fps24);
        Assert.Equal(["09:00:00:00", "09:01:00:00", "23:59:59:00"], clips.Select(c => c.Labelled.Start.ToString()));
        Assert.Equal(["A01_0001", "A01_0002", "A01_0003"], clips.Select(c => c.Name));
        Assert.True(clips[2].Labelled.Labels!.Value.CrossesMidnight);

        // A clip's date comes from its start.
        Assert.Equal(0, clips[2].Day);
    }

    [Fact]
    public void Label_RecordRun_GoesOnFromClipToClipAndRestartsWithTheReel()
    {
        DayCamera camera = Camera("B", TimecodeRun.Record) with { FramesPerReel = 500, HourPerReel = true, FirstReel = 3 };
        IReadOnlyList<DayClip> clips = ShootingDay.Label(
            [camera],
            [new(0, 100, FrameRate.Fps24, 240), new(0, 200, FrameRate.Fps24, 240), new(0, 300, FrameRate.Fps24, 240), new(0, 400, FrameRate.Fps24, 1_200)],
            FrameRate.Fps24);
        Assert.Equal(["B03_0001", "B03_0002", "B04_0001", "B05_0001", "B06_0001", "B07_0001"], clips.Select(c => c.Name));
        Assert.Equal(
            ["01:00:00:00", "01:00:10:00", "02:00:00:00", "03:00:00:00", "04:00:00:00", "05:00:00:00"],
            clips.Select(c => c.Labelled.Start.ToString()));
        Assert.Equal([240, 240, 240, 500, 500, 200], clips.Select(c => c.Labelled.FrameCount));
        Assert.Equal([0, 1, 2, 3, 3, 3], clips.Select(c => c.Take));
    }

    // Common practice, no source: non-drop labels at 30000/1001 lag the clock by 3.6 s an hour after the sync.
    [Fact]
    public void FreeRunLabel_NonDrop_LagsTheClockAndReturnsWithTheNextSync()
    {
        DayCamera camera = Camera("A", TimecodeRun.Free, TimecodeFormat.Fps30000Over1001) with { JamSeconds = 6 * 3600 };
        Assert.Equal("06:00:00:00", camera.FreeRunLabel(6 * 3600).ToString());

        // 3,600 s at 30000/1001 are 107,892 whole frames: 59 min 56 s 12 frames.
        Assert.Equal("06:59:56:12", camera.FreeRunLabel(7 * 3600).ToString());
        Assert.Equal("07:00:00:00", (camera with { JamEverySeconds = 3600 }).FreeRunLabel(7 * 3600).ToString());
        Assert.Throws<ArgumentOutOfRangeException>(() => camera.FreeRunLabel(0));
    }

    // Common practice, no source: +10 ppm against -10 ppm for 12 h is 0.864 s, 20.7 frames at 24.
    [Fact]
    public void FreeRunLabel_TwoClocks_DriftApartByTheSumOfTheirErrors()
    {
        DayCamera fast = Camera("A", TimecodeRun.Free) with { ClockPartsPerBillion = 10_000 };
        DayCamera slow = Camera("B", TimecodeRun.Free) with { ClockPartsPerBillion = -10_000 };
        long apart = slow.FreeRunLabel(12 * 3600).FramesUntil(fast.FreeRunLabel(12 * 3600));
        Assert.InRange(apart, 20, 21);
    }

    [Fact]
    public void Label_FreeRunAtBaseSpeed_NeverCollidesOnAReelInADay() =>
        Gen.Long.Sample(
            seed =>
            {
                IReadOnlyList<DayTake> takes = ShootingDayPlanner.Plan(seed, ThreeCameras with { OffSpeedPercent = 0, Days = 1, DaySeconds = 8 * 3600 });
                IReadOnlyList<DayClip> clips = ShootingDay.Label([.. "ABC".Select(letter => Camera($"{letter}", TimecodeRun.Free))], takes, FrameRate.Fps24);
                return clips.Count == takes.Count && Collisions(clips) == 0;
            },
            iter: 20);

    // An over-cranked clip with a label a frame runs into the next; following the clock it does not; record run never does.
    [Fact]
    public void Label_OffSpeedTakes_CollideByLabellingBehaviour()
    {
        ShootingDaySettings busy = ThreeCameras with { TakesPerDay = 200, Days = 1, DaySeconds = 8 * 3600, OffSpeedPercent = 50 };
        IReadOnlyList<DayTake> takes = ShootingDayPlanner.Plan(7, busy);
        int Count(TimecodeRun run, OffSpeedLabelling labelling) => Collisions(
            ShootingDay.Label([.. "ABC".Select(letter => Camera($"{letter}", run) with { Labelling = labelling })], takes, FrameRate.Fps24));

        Assert.True(Count(TimecodeRun.Free, OffSpeedLabelling.PerFrame) > 0);
        Assert.Equal(0, Count(TimecodeRun.Free, OffSpeedLabelling.FollowsClock));
        Assert.Equal(0, Count(TimecodeRun.Record, OffSpeedLabelling.PerFrame));
    }

    [Fact]
    public void Plan_SameSeed_MakesTheSameTakesInOrder()
    {
        IReadOnlyList<DayTake> takes = ShootingDayPlanner.Plan(42, ThreeCameras);
        Assert.Equal(takes, ShootingDayPlanner.Plan(42, ThreeCameras));
        Assert.NotEqual(takes, ShootingDayPlanner.Plan(43, ThreeCameras));
        Assert.Equal(3 * 2 * 60, takes.Count);
        Assert.Contains(takes, take => take.Sensor == FrameRate.From(96, 1));
        Assert.All(takes, take => Assert.True(take.FrameCount >= 1));

        // Labelling checks that no camera's takes overlap.
        IReadOnlyList<DayClip> clips = ShootingDay.Label([.. "ABC".Select(letter => Camera($"{letter}", TimecodeRun.Free))], takes, FrameRate.Fps24);
        Assert.Contains(clips, clip => clip.Day == 2);
        Assert.Equal(clips.Count, clips.Select(clip => clip.Name).Distinct(StringComparer.OrdinalIgnoreCase).Count());
    }

    [Fact]
    public void Label_WrongInput_IsRefused()
    {
        DayCamera camera = Camera("A", TimecodeRun.Free);
        DayTake take = new(0, 100, FrameRate.Fps24, 240);
        Assert.Throws<ArgumentException>(() => ShootingDay.Label([camera, camera], [take], FrameRate.Fps24));
        Assert.Throws<ArgumentException>(() => ShootingDay.Label([camera], [take with { Camera = 1 }], FrameRate.Fps24));
        Assert.Throws<ArgumentException>(() => ShootingDay.Label([camera], [take, take with { StartSeconds = 109 }], FrameRate.Fps24));
        Assert.Throws<ArgumentException>(() => ShootingDay.Label([camera with { Letter = "a" }], [take], FrameRate.Fps24));
        Assert.Throws<ArgumentException>(() => ShootingDay.Label([camera with { RecordRunStart = default }], [take], FrameRate.Fps24));
        Assert.Throws<ArgumentOutOfRangeException>(() => ShootingDay.Label([camera], [take with { FrameCount = 0 }], FrameRate.Fps24));
        Assert.Throws<ArgumentOutOfRangeException>(() => ShootingDay.Label([camera with { FirstReel = 0 }], [take], FrameRate.Fps24));
        Assert.Throws<ArgumentOutOfRangeException>(() => ShootingDayPlanner.Plan(1, ThreeCameras with { Days = 367 }));
        Assert.Throws<ArgumentOutOfRangeException>(() => ShootingDayPlanner.Plan(1, ThreeCameras with { TakesPerDay = 20_000 }));
    }

    // Common practice, no source: 4,423,680 bytes a frame (4096×2160, 12-bit raw, 3:1) and FAT32's 2³²−1 bytes.
    [Fact]
    public void Split_TwelveMinutesOnFat32_Makes18Chunks()
    {
        long frames = ChunkPlan.For(17_280, 4_423_680, ChunkPlan.Fat32MaximumBytes).FramesPerChunk;
        Assert.Equal(970, frames);
        TimecodeRange take = TimecodeRange.FromStart(Timecode.Parse("23:55:00:00", Film), 17_280);
        TimecodeRange[] chunks = [.. TakeChunks.Split(take, frames)];
        Assert.Equal(18, chunks.Length);
        Assert.Equal(790, chunks[^1].FrameCount);
        Assert.Equal(take.EndExclusive, chunks[^1].EndExclusive);
        Assert.All(chunks.Zip(chunks.Skip(1)), pair => Assert.Equal(pair.First.EndExclusive, pair.Second.Start));
        Assert.Single(TakeChunks.Split(take, long.MaxValue));
        Assert.Empty(TakeChunks.Split(TimecodeRange.FromStart(take.Start, 0), 1));
    }

    private static int Collisions(IReadOnlyList<DayClip> clips) =>
        LabelCollisions.Among([.. clips.Where(c => c.Labelled.Labels is not null).Select(c => new LabelledTake(c.Reel, c.Labelled.Labels!.Value))], 100_000).Found.Count;

    private static DayCamera Camera(string letter, TimecodeRun run, TimecodeFormat? format = null)
    {
        format ??= Film;
        return new(letter, format, run, OffSpeedLabelling.PerFrame, Timecode.FromFrames(format.FramesPerHour, format));
    }
}
