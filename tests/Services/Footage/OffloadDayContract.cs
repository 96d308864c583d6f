using PostPipeline.Client;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Contracts.Types.V1;
using PostPipeline.Services.Tests.Transports;
using Xunit;
using static PostPipeline.Services.Tests.Footage.FootageSamples;

namespace PostPipeline.Services.Tests.Footage;

/// <summary>Days of offload, card by card. Means and cards: common practice, no source; see the domain's tests.</summary>
public abstract class OffloadDayContract<TTransport> : FootageHostContract<TTransport>
    where TTransport : ITransportFactory
{
    [Fact]
    public async Task SimulateDays_ThreeLastCardsOnTwoStations_EndAfterTwoWholeCards()
    {
        SimulateDaysRequest request = new() { Means = Means(2), Explain = true };
        OffloadDay day = new() { Label = "day 1", WrapSeconds = 36_000, CourierSeconds = 45_000, NextCallSeconds = 86_400 };
        foreach (string camera in (string[])["A", "B", "C"])
        {
            day.Cameras.Add(new CameraDay { Camera = camera, CardBytes = 512_000_000_000, Takes = { new RecordedTake { StartSeconds = 30_000, EndSeconds = 36_000, Bytes = 512_000_000_000, Files = 1 } } });
        }

        request.Days.Add(day);
        DayOffload answer = (await Clients.Offload.SimulateDaysAsync(request)).Results[0].Offload;
        Assert.Equal((3, 36_000 + 8192.0, 8192.0), (answer.Cards, answer.EndSeconds, answer.AfterWrapSeconds));
        Assert.Equal([0, 0, 4096], answer.Runs.Select(r => r.StartedSeconds - 36_000));
        Assert.Equal(("third", "second", 4096.0), (answer.BindingLink, answer.NextLink, answer.LongestWaitSeconds));
        Assert.Equal((808.0, 86_400 - 44_192 - 39_600.0), (answer.BeforeCourierSeconds, answer.RestToSpareSeconds));

        // The tree: the last card's way adds up to the end of the day; its own copy is set by the third destination.
        Derivation tree = answer.Derivation;
        Assert.Equal(("44192", "station load", "third"), (tree.Value, tree.BindingLimit, tree.NextLimit));
        Derivation way = tree.Inputs[0];
        Assert.Equal("last card, of C, at station 1", way.Name);
        Assert.Equal(["36000", "0", "4096", "2048", "2048", "0"], way.Inputs.Skip(1).Select(i => i.Value));
        Derivation card = tree.Inputs.Single(i => i.Name == "time of a full card at a rested station");
        Assert.Equal(("4096", "third", "second"), (card.Value, card.BindingLimit, card.NextLimit));
        Assert.Equal(["spare cards"], Nodes(tree).Select(n => n.Margin).Where(m => m.Length > 0));
        Assert.All(answer.Rotation, r => Assert.Equal((1, 2), (r.MostAtOnce, r.WithSpares)));
    }

    [Fact]
    public async Task SimulateDays_BadMeansAndBadDay_AreRefusedByFieldAndByItem()
    {
        SimulateDaysRequest request = new() { Means = Means(0) };
        request.Means.Destinations[1].SustainedBytesPerSecond = 0;
        request.Means.Verify = VerifyLevel.Unspecified;
        ServiceCallException refused = await Assert.ThrowsAsync<ServiceCallException>(async () => await Clients.Offload.SimulateDaysAsync(request));
        Assert.Equal(["means.stations", "means.verify", "means.destinations[1].sustained_bytes_per_second"], refused.Violations.Select(v => v.Field));

        SimulateDaysRequest good = new() { Means = Means(1) };
        good.Days.Add(new OffloadDay { WrapSeconds = 100 });
        good.Days.Add(new OffloadDay { WrapSeconds = 100, Cameras = { new CameraDay { Camera = "A", CardBytes = 10, Takes = { new RecordedTake { StartSeconds = 5, EndSeconds = 4, Files = 1 } } } } });
        SimulateDaysResponse response = await Clients.Offload.SimulateDaysAsync(good);
        Assert.Equal(0, response.Results[0].Offload.Cards);
        Assert.Equal("cameras[0].takes[0]", response.Results[1].Error.Field);
        good.Days[0].Cameras.Add(new CameraDay { Camera = "A", CardBytes = 10, PullSeconds = { 50, -1 } });
        ItemError pull = (await Clients.Offload.SimulateDaysAsync(good)).Results[0].Error;
        Assert.Equal("cameras[0].pull_seconds[1]", pull.Field);
    }

    [Fact]
    public async Task SimulateDays_Consecutive_CarriesTheBacklogOver()
    {
        SimulateDaysRequest request = new() { Means = Means(1), Consecutive = true };
        request.Means.Verify = VerifyLevel.None;
        for (int d = 0; d < 2; d++)
        {
            // 60 h of copying at the slowest destination's 250 MB/s.
            request.Days.Add(new OffloadDay { Unit = "main", Day = d, WrapSeconds = 60, Cameras = { new CameraDay { Camera = "A", CardBytes = 54_000_000_000_000, Takes = { new RecordedTake { StartSeconds = 0, EndSeconds = 60, Bytes = 54_000_000_000_000, Files = 1 } } } } });
        }

        SimulateDaysResponse response = await Clients.Offload.SimulateDaysAsync(request);
        Assert.Equal([60, 96], response.Results.Select(r => Math.Round(r.Offload.EndSeconds / 3600)));
        Assert.True(response.Results[0].Offload.NeverCatchesUp);
    }
}

public sealed class EmbeddedOffloadDayTests : OffloadDayContract<EmbeddedTransport>;

public sealed class NetworkOffloadDayTests : OffloadDayContract<KestrelTransport>;
