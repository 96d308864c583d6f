using CsCheck;
using PostPipeline.Footage.Offloads;
using PostPipeline.Quantities;
using Xunit;

namespace PostPipeline.Domain.Tests.Footage;

public class OffloadTests
{
    private const long Card = 512_000_000_000;
    private const long Second = 1_000_000;
    private const long Minute = 60 * Second;

    // Worked example (invented inputs, common practice, no source): reader 800, destinations 1200/450/250 MB/s, verify in parallel
    // at the same rates: 68.3 min; the third at 900: 37.9 min; then the reader at 1600: unchanged.
    [Theory]
    [InlineData(800, 250, 68.3, "third", "second")]
    [InlineData(800, 900, 37.9, "second", "reader")]
    [InlineData(1600, 900, 37.9, "second", "third")]
    public void CopyChain_ThreeDestinations_IsRuledByItsSlowestLink(double reader, double third, double minutes, string binding, string next)
    {
        CopyChain chain = new(Means(1, reader, third));
        Assert.Equal(minutes, Math.Round(chain.Times(Card).TotalSeconds / 60, 1));
        Assert.Equal((binding, next), (chain.BindingLink.Name, chain.NextLink?.Name));
    }

    // 512 GB at 450 MB/s for the first 150 GB then 150 MB/s takes 45.8 min a copy, not 19.0 (common practice, no source).
    [Fact]
    public void CopyChain_FastPart_FillsUp()
    {
        OffloadMeans means = new(1, 2e9, [new("drive", 150e6) { FastBytes = 150_000_000_000, FastBytesPerSecond = 450e6 }]) { Verify = VerifyLevel.None };
        Assert.Equal(45.8, Math.Round(new CopyChain(means).Times(Card).CopySeconds / 60, 1));
        OffloadMeans flat = new(1, 2e9, [new("drive", 450e6)]) { Verify = VerifyLevel.None };
        Assert.Equal(19.0, Math.Round(new CopyChain(flat).Times(Card).CopySeconds / 60, 1));
    }

    // Derived by hand: 90 GB; reader 900, two destinations 1,000 MB/s.
    [Theory]
    [InlineData(VerifyLevel.None, 0.0, 100)]
    [InlineData(VerifyLevel.Sizes, 0.0, 100)]
    [InlineData(VerifyLevel.Destinations, 90.0, 190)]
    [InlineData(VerifyLevel.SourceAndDestinations, 190.0, 290)]
    [InlineData(VerifyLevel.CameraHashes, 90.0, 190)]
    public void CopyChain_VerifyLevels_CostTheirReads(VerifyLevel level, double verify, double total)
    {
        OffloadMeans means = new(1, 900e6, [new("a", 1000e6), new("b", 1000e6)]) { Verify = level };
        CardTimes times = new CopyChain(means).Times(90_000_000_000);
        Assert.Equal((verify, total), (times.VerifySeconds, times.TotalSeconds));
    }

    // Derived by hand: bus 1,200 shared by one read and two writes leaves 400; verify, two reads, 600. Hash 300 × 2 threads: 600, and 300 for each of two.
    [Fact]
    public void CopyChain_BusAndHash_Limit()
    {
        OffloadMeans bus = new(1, 900e6, [new("a", 1000e6), new("b", 1000e6)]) { BusBytesPerSecond = 1200e6 };
        Assert.Equal((300, 200), (new CopyChain(bus).Times(120_000_000_000).CopySeconds, new CopyChain(bus).Times(120_000_000_000).VerifySeconds));
        OffloadMeans hash = new(1, 900e6, [new("a", 1000e6), new("b", 1000e6)]) { HashBytesPerSecond = 300e6, HashThreads = 2, SecondsPerFile = 0.02 };
        Assert.Equal((200 + 20, 400), (new CopyChain(hash).Times(120_000_000_000, 1000).CopySeconds, new CopyChain(hash).Times(120_000_000_000).VerifySeconds));
    }

    // A cascade decouples the slowest: the station is free while the slow copy is made from the fast one.
    [Fact]
    public void Run_Cascade_FreesTheStationBeforeTheSlowCopy()
    {
        Destination slow = new("slow", 100e6);
        OffloadMeans parallel = new(1, 1000e6, [new("fast", 1000e6), slow]) { Verify = VerifyLevel.None };
        OffloadMeans cascade = new(1, 1000e6, [new("fast", 1000e6), slow with { Cascaded = true }]) { Verify = VerifyLevel.None };
        CardArrival[] cards = [new(0, 0, 100_000_000_000, 1), new(1, 0, 100_000_000_000, 1)];
        Assert.Equal([1000, 2000], OffloadSimulation.Run(parallel, cards).Select(r => r.DoneMicroseconds / Second));
        IReadOnlyList<CardRun> runs = OffloadSimulation.Run(cascade, cards);
        Assert.Equal([0, 100], runs.Select(r => r.StartedMicroseconds / Second));
        Assert.Equal([1100, 2100], runs.Select(r => r.DoneMicroseconds / Second));
    }

    // Three last cards on two stations: 137 min, not 102, at 68.3 min a card (⌈3/2⌉ whole cards, never one and a half).
    [Fact]
    public void Run_ThreeLastCardsOnTwoStations_TakeTwoWholeCards()
    {
        OffloadMeans means = Means(2, 800, 250);
        IReadOnlyList<CardRun> runs = OffloadSimulation.Run(means, [new(0, 0, Card, 1), new(1, 0, Card, 1), new(2, 0, Card, 1)]);
        Assert.Equal(4096 * 2 * Second, runs.Max(r => r.DoneMicroseconds));
        Assert.Equal(137, Math.Round(runs.Max(r => r.DoneMicroseconds) / (double)Minute));
        Assert.Equal(4096 * 2, EndOfDay.EqualCardsSeconds(3, 2, 4096));
    }

    // Worked example: T_loop 108.3, T_card 77.2 min: 4 a camera without pause, but three cameras load one station at 265 %: refuse. 2.5 h in 10: 66 %, 3 a camera.
    [Fact]
    public void TurnRoundLoop_ReferenceCard_CountsOrRefuses()
    {
        double card = 77.2226 * 60;
        TurnRoundLoop one = TurnRoundLoop.Of(1, 1, card, 1, 4096, 40 * 60, 1);
        Assert.Equal((4, true), (one.CardsPerCamera, !one.NeverCatchesUp));
        TurnRoundLoop three = TurnRoundLoop.Of(3, 1, card, 1, 4096, 40 * 60, 1);
        Assert.Equal((265, true), (Math.Round(three.StationLoad * 100), three.NeverCatchesUp));
        TurnRoundLoop duty = TurnRoundLoop.Of(3, 1, card, 0.25, 4096, 40 * 60, 1);
        Assert.Equal((66, 3, false), (Math.Round(duty.StationLoad * 100), duty.CardsPerCamera, duty.NeverCatchesUp));
        Assert.Equal(5, TurnRoundLoop.Held(2, 1, 1));
    }

    // Derived by hand: a take of 250 units over 250 s fills cards of 100 at 100 s and 200 s; 50 are pulled at wrap.
    [Fact]
    public void Fill_LongTake_LeavesTheCameraWhenFull()
    {
        CameraDay day = new("A", 100, [new(0, 250 * Second, 250, 1)], []);
        Assert.Equal(
            [new(0, 100 * Second, 100, 1), new(0, 200 * Second, 100, 1), new(0, 900 * Second, 50, 1)],
            CardFilling.Fill(0, day, 900 * Second));
    }

    [Fact]
    public void Fill_LunchAndModeChange_PullPartFullCardsAfterTheTakeThatRuns()
    {
        CameraDay day = new("A", 100, [new(0, 10 * Second, 30, 1), new(20 * Second, 40 * Second, 30, 2), new(50 * Second, 60 * Second, 30, 1)], [30 * Second, 55 * Second, 56 * Second]);
        Assert.Equal([new(0, 40 * Second, 60, 3), new(0, 60 * Second, 30, 1)], CardFilling.Fill(0, day, 70 * Second));
    }

    [Fact]
    public void Fill_OverlappingTakes_AreRefusedNamingTheCamera()
    {
        ArgumentException thrown = Assert.Throws<ArgumentException>(() => CardFilling.Fill(0, new("A", 100, [new(0, 10, 30, 1), new(9, 20, 30, 1)], []), 30));
        Assert.Contains("Camera A", thrown.Message, StringComparison.Ordinal);
    }

    // The day of the worked example: three cameras, 2.5 recorded hours in 10, one station.
    [Fact]
    public void Simulate_ReferenceDay_LoadsOneStationAsTheShortFormSays()
    {
        OffloadMeans means = Means(1, 800, 250) with { LookSeconds = 600, TransitSeconds = 900, ReturnSeconds = 900 };
        ShootDay day = new([.. "ABC".Select(c => Duty(c.ToString(), 10, 0.25))], 20 * 60 * Minute);
        DayOffload result = OffloadPlan.Simulate(means, day);
        Assert.Equal(3 * 9000 * 106_168_320L, result.Bytes);

        // 955.5 GB a camera: one full card and one part-full at wrap; 2 × 955.5 GB × 3 ÷ 250 MB/s over 10 h = 63.7 %.
        Assert.Equal(6, result.Runs.Count);
        Assert.Equal(0.637, Math.Round(result.StationLoad, 3));
        Assert.False(result.NeverCatchesUp);
        Assert.All(result.Rotation, r => Assert.InRange(r.WithSpares, 2, 4));
        Assert.Equal(result.EndMicroseconds - day.WrapMicroseconds, result.AfterWrapMicroseconds);
    }

    [Fact]
    public void Simulate_RollingWithoutPause_NeverCatchesUp()
    {
        ShootDay day = new([.. "ABC".Select(c => Duty(c.ToString(), 10, 1))], 20 * 60 * Minute);
        DayOffload result = OffloadPlan.Simulate(Means(1, 800, 250), day);
        Assert.True(result.NeverCatchesUp);
        Assert.Equal(2.55, Math.Round(result.StationLoad, 2));
    }

    [Fact]
    public void Simulate_Holds_CountEveryDaysCardsUntilTheyServeAgain()
    {
        OffloadMeans means = new OffloadMeans(1, 1e9, [new("a", 1e9)]) { HoldNights = 1, SpareCards = 1 };
        ShootDay[] days = [.. Enumerable.Range(0, 4).Select(d => new ShootDay([new("A", 100, [new(0, 250 * Second, 250, 1)], [])], 900 * Second, d))];
        Assert.Equal([3, 6, 6, 6], OffloadPlan.Simulate(means, days).Select(d => d.Rotation[0].MostAtOnce));
        Assert.Equal((6, 7), (OffloadPlan.Simulate(means, days[0]).Rotation[0].MostAtOnce, OffloadPlan.Simulate(means, days[0]).Rotation[0].WithSpares));
        Assert.Equal(TurnRoundLoop.Held(3, 1, 1), OffloadPlan.Simulate(means, days[0]).Rotation[0].WithSpares);
    }

    [Fact]
    public void Simulate_BacklogOverNight_MeetsTheNextDay()
    {
        // 60 h of copying on one station, two days running.
        OffloadMeans means = new(1, 1e6, [new("a", 1e6)]) { Verify = VerifyLevel.None };
        ShootDay[] days = [.. Enumerable.Range(0, 2).Select(d => new ShootDay([new("A", 216_000_000_000, [new(0, Minute, 216_000_000_000, 1)], [])], Minute, d))];
        IReadOnlyList<DayOffload> results = OffloadPlan.Simulate(means, days);
        Assert.Equal([60, 60 + 60 - 24], results.Select(r => Math.Round(r.EndMicroseconds / 3600e6)));
    }

    // Directive 2003/88/EC, article 3: 11 consecutive hours. Done at 22:00, courier at 21:30, next call at 08:00.
    [Fact]
    public void EndOfDay_LateOffload_MissesTheCourierAndBreaksTheRest()
    {
        EndOfDay end = new(22 * 60 * Minute, (21 * 60 + 30) * Minute, 32 * 60 * Minute);
        Assert.Equal((-30 * Minute, -60 * Minute), (end.BeforeCourierMicroseconds, end.RestToSpareMicroseconds));
        Assert.Null(new EndOfDay(0, null, null).RestToSpareMicroseconds);
    }

    // Properties: every card is served once, in order, on one station at a time. More bandwidth is never later (but for whole
    // microseconds) on one station, and on several that share nothing but the queue; where a station keeps a cache or a queue
    // of cascaded copies, a faster link can send a card to another station and end later, as lists of tasks do (Graham 1966).
    [Fact]
    public void Run_AnyDay_ServesInOrderAndIsNotLaterWithMore() =>
        Gen.Select(Gen.Select(Gen.Long[0, 3600], Gen.Long[1, 600_000_000_000]).List[1, 20], Gen.Int[1, 4], Gen.Double[50, 900], Gen.Double[0, 500], Gen.Bool).Sample((rows, stations, rate, more, cascade) =>
        {
            CardArrival[] cards = [.. rows.Select((r, i) => new CardArrival(i % 3, r.Item1 * Second, r.Item2, 1))];
            OffloadMeans Make(int count, double r) => new(count, 900e6, [new("a", r * 1e6) { FastBytes = 100_000_000_000, FastBytesPerSecond = 950e6 }, new("b", r * 1e6) { Cascaded = cascade }]);
            IReadOnlyList<CardRun> runs = OffloadSimulation.Run(Make(stations, rate), cards);
            Assert.Equal(cards.Sum(c => c.Bytes), runs.Sum(r => r.Card.Bytes));
            foreach (IGrouping<int, CardRun> station in runs.GroupBy(r => r.Station))
            {
                CardRun[] own = [.. station];
                Assert.All(own.Zip(own.Skip(1)), p => Assert.True(p.First.StartedMicroseconds <= p.Second.StartedMicroseconds));
                Assert.All(own, r => Assert.True(r.ArrivedMicroseconds <= r.StartedMicroseconds && r.StartedMicroseconds <= r.CopiedMicroseconds && r.CopiedMicroseconds <= r.VerifiedMicroseconds));
            }

            Assert.InRange(OffloadSimulation.Run(Make(1, rate + more), cards).Max(r => r.DoneMicroseconds), 0, OffloadSimulation.Run(Make(1, rate), cards).Max(r => r.DoneMicroseconds) + (4 * cards.Length));
            OffloadMeans Plain(double r) => new(stations, 900e6, [new("a", r * 1e6), new("b", r * 1e6)]);
            Assert.InRange(OffloadSimulation.Run(Plain(rate + more), cards).Max(r => r.DoneMicroseconds), 0, OffloadSimulation.Run(Plain(rate), cards).Max(r => r.DoneMicroseconds) + (4 * cards.Length));
        });

    private static CameraDay Duty(string camera, int hours, double duty)
    {
        // A take of ten clock minutes' worth of duty every ten minutes, from 08:00 to 18:00 at clip R's rate; wrap is set by the caller.
        List<RecordedTake> takes = [];
        for (int i = 0; i < hours * 6; i++)
        {
            long start = (600 * Minute) + (i * 10 * Minute);
            long seconds = (long)(600 * duty);
            takes.Add(new(start, start + (seconds * Second), seconds * 106_168_320, 1));
        }

        return new(camera, Card, takes, []);
    }

    private static OffloadMeans Means(int stations, double reader, double third) =>
        new(stations, reader * 1e6, [new("first", 1200e6), new("second", 450e6), new("third", third * 1e6)]);
}
