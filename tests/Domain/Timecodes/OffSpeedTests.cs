using CsCheck;
using PostPipeline.Quantities;
using PostPipeline.Timecodes;
using PostPipeline.Timecodes.OffSpeed;
using Xunit;

namespace PostPipeline.Domain.Tests.Timecodes;

public class OffSpeedTests
{
    private static readonly TimecodeFormat Film = TimecodeFormat.Fps24;
    private static readonly ClipRates FourTimes = new(FrameRate.From(96, 1), Film, FrameRate.Fps24);
    private static readonly Timecode Ten = Timecode.Parse("10:00:00:00", Film);

    // Common practice, no source: 96 on base 24 for 30 s is 2,880 frames, labelled up to 10:02:00:00 where there is a label
    // a frame, so that a clip of at least 1,440 frames at 10:01:00:00 shares 1,440 numbers with it.
    [Fact]
    public void PerFrame_ThirtySecondsAt96_OverlapsTheClipAMinuteLater()
    {
        long frames = FourTimes.FramesIn(30);
        Assert.Equal(2_880, frames);
        LabelledClip clip = LabelledClip.From(FourTimes, OffSpeedLabelling.PerFrame, Ten, frames);
        Assert.Equal("10:02:00:00", clip.Labels!.Value.EndExclusive.ToString());
        Assert.Equal(30, clip.RecordedSeconds);
        Assert.Equal(120, clip.ScreenSeconds);
        Assert.Equal(90, clip.AheadOfClockSeconds);
        Assert.Equal(4, FourTimes.SlowFactor);

        TimecodeRange later = TimecodeRange.FromStart(Timecode.Parse("10:01:00:00", Film), 1_440);
        LabelCollisions collisions = LabelCollisions.Among([new("A07", clip.Labels.Value), new("A07", later)], 10);
        Assert.Equal([new LabelCollision(0, 1, 1_440, later.Start)], collisions.Found);
        Assert.True(collisions.IsComplete);
        Assert.Empty(LabelCollisions.Among([new("A07", clip.Labels.Value), new("A08", later)], 10).Found);
    }

    [Fact]
    public void Possible_UnknownLabelling_TriesEveryBehaviour()
    {
        Timecode counter = Timecode.Parse("01:00:00:00", Film);
        IReadOnlyList<LabelledClip> clips = LabelledClip.Possible(FourTimes, OffSpeedLabelling.Unknown, Ten, counter, 2_880);
        Assert.Equal(
            [OffSpeedLabelling.PerFrame, OffSpeedLabelling.FollowsClock, OffSpeedLabelling.RecordRunForced, OffSpeedLabelling.None],
            clips.Select(c => c.Labelling));
        Assert.Equal(
            ["10:00:00:00 to 10:02:00:00 (2880 frames)", "10:00:00:00 to 10:00:30:00 (720 frames)", "01:00:00:00 to 01:02:00:00 (2880 frames)", ""],
            clips.Select(c => c.Labels?.ToString() ?? ""));
        Assert.Equal([1, 4, 1, 0], clips.Select(c => c.MostFramesPerLabel));
        Assert.Equal([true, false, true, false], clips.Select(c => c.LabelsNameFrames));
        Assert.Equal([90, 0, 90, 0], clips.Select(c => c.AheadOfClockSeconds.Floor()));
    }

    [Fact]
    public void Possible_AtBaseSpeed_IsOneWay() =>
        Assert.Single(LabelledClip.Possible(new(FrameRate.Fps24, Film, FrameRate.Fps24), OffSpeedLabelling.Unknown, Ten, Ten, 100));

    [Fact]
    public void IsOffSpeed_24On24000Over1001_IsNotBaseSpeed() =>
        Assert.True(new ClipRates(FrameRate.Fps24, TimecodeFormat.Fps24000Over1001, FrameRate.Fps24000Over1001).IsOffSpeed);

    [Fact]
    public void FollowsClock_UnderCranked_SkipsLabels()
    {
        LabelledClip clip = LabelledClip.From(new(FrameRate.From(6, 1), Film, FrameRate.Fps24), OffSpeedLabelling.FollowsClock, Ten, 60);
        Assert.Equal(237, clip.Labels!.Value.FrameCount);
        Assert.Equal(177, clip.SkippedLabels);
        Assert.Equal("10:00:00:04", clip.LabelOfFrame(1)!.Value.ToString());
        Assert.Equal((1, 1), clip.FramesOfLabel(Ten + 4));
        Assert.Equal(0, clip.FramesOfLabel(Ten + 5).Count);
    }

    // Property: what the clip says of a label is what a walk over its frames finds.
    [Fact]
    public void FramesOfLabel_AgainstAWalkOverTheFrames_Agree() =>
        Gen.Select(
            Gen.Long[1, 480],
            Gen.OneOf(1L, 1001L),
            TimecodeParseTests.AnyFormat.Where(f => f.Nominal <= 120),
            Gen.OneOf(OffSpeedLabelling.PerFrame, OffSpeedLabelling.FollowsClock, OffSpeedLabelling.RecordRunForced),
            Gen.Long[1, 300],
            Gen.Long).Sample((sensor, denominator, baseFormat, labelling, count, start) =>
            {
                ClipRates rates = new(FrameRate.From(denominator == 1 ? sensor : sensor * 1000, denominator), baseFormat, FrameRate.Fps24);
                LabelledClip clip = LabelledClip.From(rates, labelling, Timecode.FromFrames(start, baseFormat), count);
                Dictionary<Timecode, List<long>> byLabel = [];
                for (long frame = 0; frame < count; frame++)
                {
                    Timecode label = clip.LabelOfFrame(frame)!.Value;
                    (byLabel.TryGetValue(label, out List<long>? list) ? list : byLabel[label] = []).Add(frame);
                }

                TimecodeRange labels = clip.Labels!.Value;
                return byLabel.Count + clip.SkippedLabels >= Math.Min(labels.FrameCount, count)
                    && labels.FrameCount - byLabel.Count >= 0
                    && byLabel.Keys.All(labels.Contains)
                    && byLabel.Values.Max(frames => frames.Count) <= clip.MostFramesPerLabel
                    && byLabel.All(pair => clip.FramesOfLabel(pair.Key) == (pair.Value[0], pair.Value.Count))
                    && clip.FramesOfLabel(labels.EndExclusive).Count == 0
                    && clip.LabelOfFrame(0) == labels.Start && clip.LabelOfFrame(count - 1) + 1 == labels.EndExclusive;
            });

    [Fact]
    public void From_UnknownLabellingOrOtherFormat_IsRefused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => LabelledClip.From(FourTimes, OffSpeedLabelling.Unknown, Ten, 1));
        Assert.Throws<ArgumentException>(() => LabelledClip.From(FourTimes, OffSpeedLabelling.PerFrame, default, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => LabelledClip.From(FourTimes, OffSpeedLabelling.PerFrame, Ten, -1));
        Assert.Throws<ArgumentOutOfRangeException>(() => FourTimes.FramesIn(-1));
    }

    // Property: the sweep finds exactly the pairs that comparing all with all finds.
    [Fact]
    public void Among_AgainstAllPairs_Agrees() =>
        Gen.Select(Gen.OneOf("A01", "A02", "B01"), Gen.OneOf<long>(Gen.Long[0, 400], Gen.Long[2_073_000, 2_073_599]), Gen.Long[0, 300])
            .Select((reel, start, count) => new LabelledTake(reel, TimecodeRange.FromStart(Timecode.FromFrames(start, Film), count)))
            .Array[0, 30].Sample(takes =>
                {
                    List<LabelCollision> expected = [];
                    for (int i = 0; i < takes.Length; i++)
                    {
                        for (int j = i + 1; j < takes.Length; j++)
                        {
                            long shared = takes[i].Labels.OverlapLabels(takes[j].Labels);
                            if (takes[i].Reel == takes[j].Reel && shared > 0)
                            {
                                expected.Add(new(i, j, shared, takes[i].Labels.Intersect(takes[j].Labels)[0].Start));
                            }
                        }
                    }

                    LabelCollisions all = LabelCollisions.Among(takes, 1000);
                    LabelCollisions few = LabelCollisions.Among(takes, 3);
                    return all.IsComplete && all.Found.SequenceEqual(expected)
                        && few.IsComplete == expected.Count <= 3 && few.Found.Count == Math.Min(3, expected.Count) && few.Found.All(expected.Contains);
                });
}
