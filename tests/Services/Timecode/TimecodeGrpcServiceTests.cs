using System.Text;
using Google.Protobuf;
using Grpc.Core;
using PostPipeline.Client;
using PostPipeline.Contracts.Timecodes.V1;
using PostPipeline.Contracts.Types.V1;
using PostPipeline.Services.Tests.Transports;
using PostPipeline.Timecodes.Service;
using Xunit;

namespace PostPipeline.Services.Tests.Timecode;

/// <summary>The service embedded in the caller's process.</summary>
public class EmbeddedTimecodeGrpcServiceTests : TimecodeGrpcServiceTests<EmbeddedTransport>;

/// <summary>The service behind a real server.</summary>
public class NetworkTimecodeGrpcServiceTests : TimecodeGrpcServiceTests<KestrelTransport>;

/// <summary>What the timecode service answers, over any transport.</summary>
public abstract class TimecodeGrpcServiceTests<TTransport> : IAsyncLifetime
    where TTransport : ITransport, ITransportFactory
{
    private static readonly LabelFormat Film = Format(24, 1);
    private static readonly LabelFormat Drop = Format(30000, 1001, drop: true);

    private ITransport? transport;
    private TimecodeService.TimecodeServiceClient client = null!;

    public async Task InitializeAsync()
    {
        transport = await TTransport.OpenAsync(new(), TimecodeHost.Definition);
        client = SuiteClients.Over(transport.Invoker).Timecode;
    }

    public async Task DisposeAsync() => await transport!.DisposeAsync();

    // Source: SMPTE ST 12-1, worked by hand.
    [Fact]
    public async Task FormatLabels_DropFrame_PacksLabels()
    {
        FormatLabelsResponse response = await client.FormatLabelsAsync(new() { Format = Drop, FrameIndices = { 1_799, 1_800, 17_982, 107_892, -1 } });
        Assert.Equal(11, response.LabelWidth);
        Assert.Equal("00:00:59;2900:01:00;0200:10:00;0001:00:00;0023:59:59;29", response.Labels.ToStringUtf8());
    }

    [Fact]
    public async Task FormatAndParseLabels_SuperFrames_GiveTheFramesBack()
    {
        LabelFormat fast = Format(120000, 1001, drop: true);
        FormatLabelsResponse labels = await client.FormatLabelsAsync(new() { Format = fast, FramesPerSuperFrame = 0, FrameIndices = { 107, 7_200 } });
        Assert.Equal("00:00:00;26.300:01:00;02.0", labels.Labels.ToStringUtf8());
        ParseLabelsResponse indices = await client.ParseLabelsAsync(
            new() { Format = fast, FramesPerSuperFrame = 4, LabelWidth = labels.LabelWidth, Labels = labels.Labels });
        Assert.Equal([107, 7_200], indices.FrameIndices);
        Assert.Empty(indices.Errors);
    }

    [Fact]
    public async Task ParseLabels_WrongLabelsAmongGoodOnes_AnswersBoth()
    {
        ParseLabelsRequest request = new() { Format = Drop, LabelWidth = 12, Labels = Rows(12, "00:00:00;02", "00:01:00;00", "nonsense", "01:00:00:00") };
        ParseLabelsResponse response = await client.ParseLabelsAsync(request);
        Assert.Equal([2, -1, -1, 107_892], response.FrameIndices);
        Assert.Equal([1, 2], response.Errors.Select(e => e.Index));
        Assert.Contains("is a dropped label", response.Errors[0].Description);
        Assert.Equal("labels", response.Errors[0].Field);

        request.SnapDroppedForward = true;
        Assert.Equal(1_800, (await client.ParseLabelsAsync(request)).FrameIndices[1]);
    }

    [Fact]
    public async Task ParseLabels_TenThousand_GoBothWays()
    {
        long[] indices = [.. Enumerable.Range(0, 10_000).Select(i => i * 257L)];
        FormatLabelsResponse labels = await client.FormatLabelsAsync(new() { Format = Drop, FrameIndices = { indices } });
        ParseLabelsResponse back = await client.ParseLabelsAsync(new() { Format = Drop, LabelWidth = 11, Labels = labels.Labels });
        Assert.Equal(indices, back.FrameIndices);
    }

    [Fact]
    public async Task FormatLabels_WrongRequest_NamesEveryField()
    {
        await Refused(
            client.FormatLabelsAsync(new() { Format = Format(25, 1, drop: true), FrameIndices = { new long[10_001] } }),
            ("format.drop_frame", "exists at 30000/1001, 60000/1001 and 120000/1001 only"),
            ("frame_indices", "has 10001 entries"));
        await Refused(client.FormatLabelsAsync(new()), ("format", "is not set"));
        await Refused(client.FormatLabelsAsync(new() { Format = Format(24, 0) }), ("format.rate.denominator", "is 0"));
        await Refused(client.FormatLabelsAsync(new() { Format = Format(2_000_000, 1) }), ("format.rate", "at most 1000000"));
        await Refused(client.FormatLabelsAsync(new() { Format = Film, FramesPerSuperFrame = 2 }), ("frames_per_super_frame", "cannot be grouped by 2"));
    }

    [Fact]
    public async Task ParseLabels_WrongRows_NamesTheField()
    {
        await Refused(client.ParseLabelsAsync(new() { Format = Film, LabelWidth = 11, Labels = ByteString.CopyFromUtf8("00:00:00:0") }), ("labels", "whole rows"));
        await Refused(client.ParseLabelsAsync(new() { Format = Film, LabelWidth = 9 }), ("label_width", "allowed is 10 to 32"));
    }

    // The largest batch of the worst items still fits a message.
    [Fact]
    public async Task LargestBatches_OfTheWorstItems_AreAnswered()
    {
        ByteString wrong = Rows(32, [.. Enumerable.Repeat(new string('9', 32), 10_000)]);
        Assert.Equal(10_000, (await client.ParseLabelsAsync(new() { Format = Drop, LabelWidth = 32, Labels = wrong })).Errors.Count);
        ByteString dropped = Rows(11, [.. Enumerable.Repeat("00:01:00;00", 10_000)]);
        MeasureDurationsResponse durations = await client.MeasureDurationsAsync(new() { Format = Drop, LabelWidth = 11, StartLabels = dropped, EndLabels = dropped });
        Assert.Equal(10_000, durations.Errors.Count);
        LabelFormat unusual = Format(999_999_999_999_999_989, 1_000_000_007);
        Assert.Equal(1_000, (await client.DescribeFormatsAsync(new() { Formats = { Enumerable.Repeat(unusual, 1_000) } })).Outcomes.Count);
        OffSpeedQuery query = new()
        {
            SensorRate = Rate(999_999, 1),
            Base = Format(120000, 1001, drop: true),
            PlaybackRate = Rate(24000, 1001),
            StartLabel = "10:00:00;000",
            RecordRunLabel = "01:00:00;000",
            FrameCount = 1_000_000_000,
            LaterClips = { Enumerable.Repeat(new LabelSpan { StartLabel = "10:01:00;008", FrameCount = 1_000_000_000 }, 50) },
        };
        MapOffSpeedResponse clips = await client.MapOffSpeedAsync(new() { Queries = { Enumerable.Repeat(query, 1_000) } });
        Assert.All(clips.Outcomes, outcome => Assert.Equal(4, outcome.Clip.Labels.Count));
    }

    [Fact]
    public async Task ConvertLabels_RatesBeyond64Bits_AreAnErrorOfTheLabel()
    {
        ConvertLabelsRequest request = new()
        {
            From = Format(1_000_003, 999_999_999_989),
            To = Format(999_983, 999_999_999_961),
            Basis = ConversionBasis.ElapsedTime,
            LabelWidth = 11,
            Labels = Rows(11, "23:59:59:00", "00:00:00:00"),
        };
        ConvertLabelsResponse response = await client.ConvertLabelsAsync(request);
        Assert.Equal([-1, 0], response.FramesFromAnchor);
        Assert.Contains("64 bits", Assert.Single(response.Errors).Description);
    }

    // Source: tests/Tables/timecode/constants.csv, exact arithmetic.
    [Fact]
    public async Task DescribeFormats_GivesConstantsOrTheReason()
    {
        DescribeFormatsResponse response = await client.DescribeFormatsAsync(new() { Formats = { Drop, Format(24000, 1001), Format(120, 1), Format(50, 1, drop: true) } });
        FormatDescription drop = response.Outcomes[0].Description;
        Assert.Equal((30, 2, 17_982, 107_892, 2_589_408), (drop.NominalFramesPerSecond, drop.DroppedLabelsPerMinute, drop.FramesPerTenMinutes, drop.FramesPerHour, drop.FramesPerDay));
        Assert.Equal(Fraction(-54, 625), drop.DriftSecondsPerLabelDay);
        Assert.True(drop.AllowsDropFrame);
        Assert.Equal((1, 0), (drop.FramesPerLtcWord, drop.FramesPerSuperFrame));
        Assert.Equal(Fraction(18, 5), response.Outcomes[1].Description.DriftSecondsPerLabelHour);
        Assert.Equal((0, 4, 12), (response.Outcomes[2].Description.FramesPerLtcWord, response.Outcomes[2].Description.FramesPerSuperFrame, response.Outcomes[2].Description.LabelWidth));
        Assert.Contains("goes up to 60", response.Outcomes[2].Description.LtcProblem);
        Assert.Equal("format.drop_frame", response.Outcomes[3].Error.Field);
    }

    [Fact]
    public async Task AddFrames_OneOrOneEach_WrapsAtMidnight()
    {
        ByteString labels = Rows(11, "23:59:59:23", "xx", "00:00:00:00");
        AddFramesResponse one = await client.AddFramesAsync(new() { Format = Film, LabelWidth = 11, Labels = labels, Frames = { 1 } });
        Assert.Equal("00:00:00:00           00:00:00:01", one.Labels.ToStringUtf8());
        Assert.Equal([0, -1, 1], one.FrameIndices);
        Assert.Equal(1, Assert.Single(one.Errors).Index);

        AddFramesResponse each = await client.AddFramesAsync(new() { Format = Film, LabelWidth = 11, Labels = labels, Frames = { -23, 0, -1 } });
        Assert.Equal("23:59:59:00           23:59:59:23", each.Labels.ToStringUtf8());
        await Refused(client.AddFramesAsync(new() { Format = Film, LabelWidth = 11, Labels = labels, Frames = { 1, 2 } }), ("frames", "allowed is 1, or 3"));
    }

    // Common practice, no source: 23:58:30:00 to 00:01:00:00 at 24 is 3,600 frames.
    [Fact]
    public async Task MeasureDurations_AcrossMidnight_CountsForwards()
    {
        MeasureDurationsResponse response = await client.MeasureDurationsAsync(new()
        {
            Format = Film,
            LabelWidth = 11,
            StartLabels = Rows(11, "23:58:30:00", "01:00:00:00", "23:00:00:00", "01:00:00:99"),
            EndLabels = Rows(11, "00:01:00:00", "01:00:10:00", "00:00:00:00", "01:00:00:00"),
        });
        Assert.Equal([3_600, 240, 86_400, -1], response.FrameCounts);
        Assert.Equal([true, false, false, false], response.CrossesMidnight);
        Assert.Equal(Fraction(1, 24), response.SecondsPerFrame);
        Assert.Equal(("start_labels", 3), (Assert.Single(response.Errors).Field, response.Errors[0].Index));
    }

    // Derived by hand: 86,400 frames at 24000/1001 last 3,603.6 s, 90,090 frames at 25.
    [Fact]
    public async Task ConvertLabels_ByFrameCountOrElapsedTime_DependsOnTheBasis()
    {
        ConvertLabelsRequest request = new()
        {
            From = Format(24000, 1001),
            To = Format(25, 1),
            Basis = ConversionBasis.ElapsedTime,
            LabelWidth = 11,
            Labels = Rows(11, "01:00:00:00", "00:00:00:01", "bad"),
        };
        ConvertLabelsResponse byTime = await client.ConvertLabelsAsync(request);
        Assert.Equal("01:00:03:1500:00:00:01           ", byTime.Labels.ToStringUtf8());
        Assert.Equal([90_090, 1, -1], byTime.FramesFromAnchor);

        // The second label is 1001/24000 s; the frame that shows starts at 1/25 s, 41/24000 s earlier.
        Assert.Equal(new Rational { Numerator = -41, Denominator = 24_000 }, Reduced(byTime.RoundingNumerators[1], byTime.RoundingDenominator));

        request.Basis = ConversionBasis.FrameCount;
        request.FromAnchor = "01:00:00:00";
        request.ToAnchor = "10:00:00:00";
        ConvertLabelsResponse byCount = await client.ConvertLabelsAsync(request);
        Assert.StartsWith("10:00:00:00", byCount.Labels.ToStringUtf8());

        request.Basis = ConversionBasis.Unspecified;
        request.ToAnchor = "10:00:00;00";
        await Refused(client.ConvertLabelsAsync(request), ("basis", "is Unspecified"), ("to_anchor", "marked as drop-frame"));
    }

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
        MapOffSpeedResponse response = await client.MapOffSpeedAsync(new() { Queries = { query, new OffSpeedQuery() } });
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
        MapOffSpeedResponse response = await client.MapOffSpeedAsync(new() { Queries = { query, noLength } });
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
        MapOffSpeedResponse response = await client.MapOffSpeedAsync(new() { Queries = { known.Select(Query) } });
        Assert.Equal(known, response.Outcomes.Select(outcome => Assert.Single(outcome.Clip.Labels).Labelling));
        Assert.Equal(known.Length, (await client.MapOffSpeedAsync(new() { Queries = { Query(OffSpeedLabelling.Unspecified) } })).Outcomes[0].Clip.Labels.Count);
        Assert.Equal("labelling", (await client.MapOffSpeedAsync(new() { Queries = { Query((OffSpeedLabelling)99) } })).Outcomes[0].Error.Field);
    }

    [Fact]
    public async Task LabelCalls_MoreThanABatch_GoBothWays()
    {
        long[] frames = [.. Enumerable.Range(0, 25_000).Select(i => i * 103L)];
        IReadOnlyList<string> labels = await client.LabelsOfAsync(Drop, frames);
        IReadOnlyList<LabelReading> readings = await client.FramesOfAsync(Drop, [.. labels, "00:01:00;00", new string('x', 100), "½"]);
        Assert.Equal(frames, readings.Take(frames.Length).Select(reading => reading.Frame!.Value));
        Assert.All(readings.Skip(frames.Length), reading => Assert.True(reading is { Frame: null, Problem.Length: > 0 }));
        Assert.Empty(await client.LabelsOfAsync(Drop, []));
    }

    [Fact]
    public async Task FindLabelCollisions_ByReel_ListsPairs()
    {
        FindLabelCollisionsResponse response = await client.FindLabelCollisionsAsync(new()
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

    // Common practice, no source: ±10 ppm each for 12 h is 0.864 s; half a frame at 24 with ±1 ppm each lasts 2.89 h.
    [Fact]
    public async Task BudgetJamSync_TwoPairs_GiveDriftAndInterval()
    {
        JamSyncQuery Query(long partsPerBillion) => new()
        {
            FirstPartsPerBillion = partsPerBillion,
            SecondPartsPerBillion = partsPerBillion,
            Rate = Rate(24, 1),
            ElapsedSeconds = Fraction(43_200, 1),
            BudgetFrames = Fraction(1, 2),
        };
        BudgetJamSyncResponse response = await client.BudgetJamSyncAsync(new() { Queries = { Query(10_000), Query(1_000), Query(0), Query(-1) } });
        Assert.Equal(Fraction(108, 125), response.Outcomes[0].Budget.DriftSeconds);
        Assert.Equal(Fraction(2_592, 125), response.Outcomes[0].Budget.DriftFrames);
        Assert.Equal((42, false), (response.Outcomes[0].Budget.SyncsNeeded, response.Outcomes[0].Budget.WithinBudget));
        Assert.Equal(Fraction(31_250, 3), response.Outcomes[1].Budget.LongestIntervalSeconds);
        Assert.Null(response.Outcomes[2].Budget.LongestIntervalSeconds);
        Assert.True(response.Outcomes[2].Budget.WithinBudget);
        Assert.Equal("first_parts_per_billion", response.Outcomes[3].Error.Field);
        Assert.Contains("and 1 more", response.Outcomes[3].Error.Description);
    }

    [Fact]
    public async Task BudgetJamSync_NumbersBeyond64Bits_AreAnErrorOfTheItem()
    {
        JamSyncQuery query = new()
        {
            FirstPartsPerBillion = 999_999_937,
            Rate = Rate(999_983, 1_000_003),
            ElapsedSeconds = Fraction(long.MaxValue, 1),
            BudgetFrames = Fraction(1, long.MaxValue),
        };
        BudgetJamSyncResponse response = await client.BudgetJamSyncAsync(new() { Queries = { query } });
        Assert.Contains("64 bits", response.Outcomes[0].Error.Description);
    }

    [Fact]
    public async Task MeasureDrift_OverAnHour_IsExact()
    {
        MeasureDriftResponse response = await client.MeasureDriftAsync(new()
        {
            Queries = { new DriftQuery { Format = Format(24000, 1001), FrameCount = 86_400 }, new DriftQuery { Format = Film, FrameCount = -1 } },
        });
        Assert.Equal(Fraction(18, 5), response.Outcomes[0].Drift.DriftSeconds);
        Assert.Equal(Fraction(3_600, 1), response.Outcomes[0].Drift.LabelSeconds);
        Assert.Equal("frame_count", response.Outcomes[1].Error.Field);
    }

    // Source: tests/Tables/timecode/ltc_codewords.csv, words made by libltc 1.3.2.
    [Fact]
    public async Task EncodeAndDecodeLtcWords_GoBothWays()
    {
        EncodeLtcWordsResponse words = await client.EncodeLtcWordsAsync(new() { Format = Drop, FrameIndices = { 107_892, 1_799, 1_800 } });
        Assert.Equal("0004000800000100FCBF0906090D00000000FCBF0204000001000000FCBF", Convert.ToHexString(words.Words.Span));
        Assert.Equal(1, words.FramesPerWord);
        byte[] damaged = words.Words.ToByteArray();
        damaged[18] = 0;
        DecodeLtcWordsResponse back = await client.DecodeLtcWordsAsync(new() { Format = Drop, Words = ByteString.CopyFrom(damaged) });
        Assert.Equal([107_892, -1, 1_800], back.FrameIndices);
        Assert.Contains("synchronising word", Assert.Single(back.Errors).Description);
        Assert.True(back.EvenParities[0]);

        EncodeLtcWordsResponse pairs = await client.EncodeLtcWordsAsync(
            new() { Format = Format(50, 1), FrameIndices = { 7 }, UserBits = 0x8765_4321, ColourFrame = true, BinaryGroupFlags = 5 });
        DecodeLtcWordsResponse pair = await client.DecodeLtcWordsAsync(new() { Format = Format(50, 1), Words = pairs.Words });
        Assert.Equal((2, 6, 0x8765_4321, true, 5), (pairs.FramesPerWord, pair.FrameIndices[0], pair.UserBits[0], pair.ColourFrames[0], pair.BinaryGroupFlags[0]));
    }

    [Fact]
    public async Task EncodeLtcWords_Above60OrWrongFlags_IsRefused()
    {
        await Refused(client.EncodeLtcWordsAsync(new() { Format = Format(72, 1) }), ("format.rate", "goes up to 60"));
        await Refused(
            client.EncodeLtcWordsAsync(new() { Format = Film, UserBits = -1, BinaryGroupFlags = 8 }), ("user_bits", "is -1"), ("binary_group_flags", "is 8"));
        await Refused(client.DecodeLtcWordsAsync(new() { Format = Film, Words = ByteString.CopyFrom(new byte[9]) }), ("words", "whole words of 10"));
    }

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
        using AsyncServerStreamingCall<GenerateShootingDaysResponse> call = client.GenerateShootingDays(request);
        await foreach (GenerateShootingDaysResponse part in call.ResponseStream.ReadAllAsync())
        {
            Assert.Null(summary);
            clips.AddRange(part.Clips?.Clips ?? []);
            summary = part.Summary;
        }

        return (clips, summary!);
    }

    private static async Task Refused<T>(AsyncUnaryCall<T> call, params (string Field, string Problem)[] expected)
    {
        ServiceCallException refused = await Assert.ThrowsAsync<ServiceCallException>(async () => await call);
        Assert.Equal(StatusCode.InvalidArgument, refused.StatusCode);
        Assert.Equal(expected.Select(e => e.Field), refused.Violations.Select(v => v.Field));
        Assert.All(expected.Zip(refused.Violations), pair => Assert.Contains(pair.First.Problem, pair.Second.Problem));
    }

    private static Rational Reduced(long numerator, long denominator)
    {
        long divisor = (long)System.Numerics.BigInteger.GreatestCommonDivisor(numerator, denominator);
        return Fraction(numerator / divisor, denominator / divisor);
    }

    private static ByteString Rows(int width, params string[] labels) =>
        ByteString.CopyFrom(Encoding.ASCII.GetBytes(string.Concat(labels.Select(label => label.PadRight(width)))));

    private static LabelFormat Format(long numerator, long denominator, bool drop = false) => new() { Rate = Rate(numerator, denominator), DropFrame = drop };

    private static FrameRate Rate(long numerator, long denominator) => new() { Numerator = numerator, Denominator = denominator };

    private static Rational Fraction(long numerator, long denominator) => new() { Numerator = numerator, Denominator = denominator };
}
