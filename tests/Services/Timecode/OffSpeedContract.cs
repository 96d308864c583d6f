using PostPipeline.Contracts.Timecodes.V1;
using PostPipeline.Services.Tests.Transports;
using Xunit;
using static PostPipeline.Services.Tests.Timecode.TimecodeSamples;

namespace PostPipeline.Services.Tests.Timecode;

/// <summary>Labels of off-speed clips, and labels that two takes share.</summary>
public abstract class OffSpeedContract<TTransport> : TimecodeHostContract<TTransport>
    where TTransport : ITransportFactory
{
    // Common practice, no source: 30 s at 96 on base 24 from 10:00:00:00 runs to 10:02:00:00 with a label a frame, and shares
    // 1,440 labels with a clip a minute later.
    [Fact]
    public async Task MapOffSpeed_UnknownLabelling_ShowsEveryBehaviourAndItsOverlap()
    {
        OffSpeedQuery query = new()
        {
            SensorRate = Rate(96, 1),
            Base = Film,
            PlaybackRate = Rate(24, 1),
            Labelling = OffSpeedLabelling.Unknown,
            StartLabel = "10:00:00:00",
            RecordRunLabel = "01:00:00:00",
            RecordedSeconds = Fraction(30, 1),
            LaterClips = { new LabelSpan { StartLabel = "10:01:00:00", FrameCount = 1_440 } },
        };
        MapOffSpeedResponse response = await Clients.Timecode.MapOffSpeedAsync(new() { Queries = { query, new OffSpeedQuery() } });
        OffSpeedClip clip = response.Outcomes[0].Clip;
        Assert.True(clip.OffSpeed);
        Assert.Equal(2_880, clip.FrameCount);
        Assert.Equal(Fraction(120, 1), clip.ScreenSeconds);
        Assert.Equal(Fraction(4, 1), clip.SlowFactor);
        Assert.Equal(["10:02:00:00", "10:00:30:00", "01:02:00:00", null], clip.Labels.Select(l => l.Span?.EndLabel));
        Assert.Equal([1_440, 0, 0, 0], clip.Labels.Select(l => l.OverlapLabels[0]));
        Assert.Equal([1, 4, 1, 0], clip.Labels.Select(l => l.MostFramesPerLabel));
        Assert.Equal(Fraction(90, 1), clip.Labels[0].AheadOfClockSeconds);
        Assert.Equal("base", response.Outcomes[1].Error.Field);
    }

    [Fact]
    public async Task MapOffSpeed_FrameCountAtBaseSpeed_IsOneWay()
    {
        OffSpeedQuery query = new()
        {
            SensorRate = Rate(24, 1),
            Base = Film,
            PlaybackRate = Rate(24, 1),
            Labelling = OffSpeedLabelling.PerFrame,
            StartLabel = "10:00:00:00",
            FrameCount = 24,
        };
        OffSpeedQuery noLength = query.Clone();
        noLength.ClearLength();
        MapOffSpeedResponse response = await Clients.Timecode.MapOffSpeedAsync(new() { Queries = { query, noLength } });
        Assert.False(response.Outcomes[0].Clip.OffSpeed);
        Assert.Equal("10:00:01:00", Assert.Single(response.Outcomes[0].Clip.Labels).Span.EndLabel);
        Assert.Equal("length", response.Outcomes[1].Error.Field);
    }

    // Every labelling behaviour of the contract has its counterpart in the domain, and comes back under its own name.
    [Fact]
    public async Task MapOffSpeed_EveryKnownLabelling_ComesBackAsItself()
    {
        OffSpeedLabelling[] known = [.. Enum.GetValues<OffSpeedLabelling>().Where(l => l is not (OffSpeedLabelling.Unspecified or OffSpeedLabelling.Unknown))];
        OffSpeedQuery Query(OffSpeedLabelling labelling) => new()
        {
            SensorRate = Rate(96, 1),
            Base = Film,
            PlaybackRate = Rate(24, 1),
            Labelling = labelling,
            StartLabel = "10:00:00:00",
            RecordRunLabel = "01:00:00:00",
            FrameCount = 1,
        };
        MapOffSpeedResponse response = await Clients.Timecode.MapOffSpeedAsync(new() { Queries = { known.Select(Query) } });
        Assert.Equal(known, response.Outcomes.Select(outcome => Assert.Single(outcome.Clip.Labels).Labelling));
        Assert.Equal(known.Length, (await Clients.Timecode.MapOffSpeedAsync(new() { Queries = { Query(OffSpeedLabelling.Unspecified) } })).Outcomes[0].Clip.Labels.Count);
        Assert.Equal("labelling", (await Clients.Timecode.MapOffSpeedAsync(new() { Queries = { Query((OffSpeedLabelling)99) } })).Outcomes[0].Error.Field);
    }

    [Fact]
    public async Task FindLabelCollisions_ByReel_ListsPairs()
    {
        FindLabelCollisionsResponse response = await Clients.Timecode.FindLabelCollisionsAsync(new()
        {
            Format = Film,
            Takes =
            {
                new ReelSpan { Reel = "A07", Labels = new() { StartLabel = "10:00:00:00", FrameCount = 2_880 } },
                new ReelSpan { Reel = "A07", Labels = new() { StartLabel = "oops", FrameCount = 1 } },
                new ReelSpan { Reel = "A07", Labels = new() { StartLabel = "10:01:00:00", FrameCount = 2_000 } },
                new ReelSpan { Reel = "B01", Labels = new() { StartLabel = "10:01:00:00", FrameCount = 2_000 } },
            },
        });
        Assert.Equal(new Collision { First = 0, Second = 2, SharedLabels = 1_440, FirstSharedLabel = "10:01:00:00" }, Assert.Single(response.Collisions));
        Assert.True(response.Complete);
        Assert.Equal("takes[1].labels.start_label", Assert.Single(response.Errors).Field);
    }
}

public sealed class EmbeddedOffSpeedTests : OffSpeedContract<EmbeddedTransport>;

public sealed class NetworkOffSpeedTests : OffSpeedContract<KestrelTransport>;
