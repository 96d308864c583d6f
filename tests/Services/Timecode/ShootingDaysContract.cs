using Grpc.Core;
using PostPipeline.Client;
using PostPipeline.Contracts.Timecodes.V1;
using PostPipeline.Services.Tests.Transports;
using Xunit;
using static PostPipeline.Services.Tests.Timecode.TimecodeSamples;

namespace PostPipeline.Services.Tests.Timecode;

/// <summary>Shooting days made up from a seed.</summary>
public abstract class ShootingDaysContract<TTransport> : TimecodeHostContract<TTransport>
    where TTransport : ITransportFactory
{
    [Fact]
    public async Task GenerateShootingDays_OffSpeedPerFrame_StreamsClipsThenCollisions()
    {
        (List<ShootingClip> clips, ShootingSummary summary) = await Generate(Days(OffSpeedLabelling.PerFrame));
        Assert.Equal(2 * 3 * 300, clips.Count);
        Assert.Equal((7, clips.Count), (summary.Seed, summary.ClipCount));
        Assert.True(summary.CollisionCount > 0);
        Assert.All(clips, clip => Assert.StartsWith(clip.Reel, clip.Name));

        (_, ShootingSummary clock) = await Generate(Days(OffSpeedLabelling.FollowsClock));
        Assert.True(clock.CollisionCount < summary.CollisionCount);
    }

    [Fact]
    public async Task GenerateShootingDays_WrongRequest_NamesEveryField()
    {
        GenerateShootingDaysRequest request = Days(OffSpeedLabelling.Unknown);
        request.Days = 0;
        request.Cameras[1].Letter = string.Empty;
        ServiceCallException refused = await Assert.ThrowsAsync<ServiceCallException>(() => Generate(request));
        Assert.Equal(["days", "cameras[0].labelling", "cameras[1].labelling", "cameras[1].letter", "cameras[2].labelling"], refused.Violations.Select(v => v.Field));
    }

    private static GenerateShootingDaysRequest Days(OffSpeedLabelling labelling) => new()
    {
        Seed = 7,
        Days = 2,
        TakesPerDay = 300,
        CallSeconds = 8 * 3600,
        DaySeconds = 10 * 3600,
        MeanTakeSeconds = 60,
        ProjectRate = Rate(24, 1),
        OffSpeedRates = { Rate(96, 1) },
        OffSpeedPercent = 30,
        Cameras =
        {
            "ABC".Select(letter => new ShootingCamera { Letter = $"{letter}", Base = Film, Run = TimecodeRun.Free, Labelling = labelling, FramesPerReel = 400_000 }),
        },
    };

    private async Task<(List<ShootingClip> Clips, ShootingSummary Summary)> Generate(GenerateShootingDaysRequest request)
    {
        List<ShootingClip> clips = [];
        ShootingSummary? summary = null;
        using AsyncServerStreamingCall<GenerateShootingDaysResponse> call = Clients.Timecode.GenerateShootingDays(request);
        await foreach (GenerateShootingDaysResponse part in call.ResponseStream.ReadAllAsync())
        {
            Assert.Null(summary);
            clips.AddRange(part.Clips?.Clips ?? []);
            summary = part.Summary;
        }

        return (clips, summary!);
    }
}

public sealed class EmbeddedShootingDaysTests : ShootingDaysContract<EmbeddedTransport>;

public sealed class NetworkShootingDaysTests : ShootingDaysContract<KestrelTransport>;
