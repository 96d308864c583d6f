using Grpc.Core;
using PostPipeline.Client;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Contracts.Types.V1;
using PostPipeline.Footage.Service;
using PostPipeline.Services.Tests.Transports;
using Xunit;

namespace PostPipeline.Services.Tests.Footage;

/// <summary>The footage host over one transport. Figures: reference clip R (common practice, no source; see the domain's tests).</summary>
public abstract class FootageContract<TTransport> : IAsyncLifetime
    where TTransport : ITransportFactory
{
    private ITransport? transport;

    private SuiteClients Clients => SuiteClients.Over(transport!.Invoker);

    public async Task InitializeAsync() => transport = await TTransport.OpenAsync(new(), FootageHost.Definition);

    public async Task DisposeAsync() => await transport!.DisposeAsync();

    [Fact]
    public async Task EstimateRates_ReferenceClip_HasExactBytesAndRates()
    {
        RateItem item = ClipR();
        item.SensorRate = Rate(96);
        item.Audio = new() { Channels = 2, BitsPerSample = 24, SampleRateHertz = 48_000 };
        EstimateRatesResponse response = await Clients.Footage.EstimateRatesAsync(new() { Items = { item }, Explain = true });
        RateEstimate estimate = response.Results[0].Estimate;
        Assert.Equal((4_423_680, 4_423_680, true), (estimate.BytesPerFrame, estimate.PeakBytesPerFrame, estimate.ConstantSize));
        Assert.Equal(new Rational { Numerator = 424_673_280, Denominator = 1 }, estimate.PictureBytesPerSecond);
        Assert.Equal(288_000, estimate.AudioBytesPerSecond.Numerator);
        Assert.Equal((4, 1), (estimate.SlowFactor.Numerator, estimate.SlowFactor.Denominator));
        Assert.Equal((4.0, 12.0, 3.0, "12-bit photosites"), (estimate.BitsPerPixel, estimate.BaseBitsPerPixel, estimate.CompressionRatio, estimate.RatioBase));
        Assert.Equal("424961280", estimate.Derivation.Value);
        Assert.Equal(["pictures", "sound"], estimate.Derivation.Inputs.Select(i => i.Name));
        Assert.Contains("W × H × bits ÷ (8 × ratio)", estimate.Derivation.Inputs[0].Inputs[0].Formula, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("vc3-1235", 917_504, SizeCertainty.Exact)]
    [InlineData("jpeg2000-cinema", 1_302_083, SizeCertainty.Limit)]
    public async Task EstimateRates_CatalogueName_AnswersWithItsSource(string name, long bytes, SizeCertainty certainty)
    {
        EstimateRatesResponse response = await Clients.Footage.EstimateRatesAsync(new() { Items = { new RateItem { Coding = new() { CatalogueName = name }, Raster = new() { Width = 1920, Height = 1080 }, SensorRate = Rate(24) } } });
        Assert.Equal((bytes, certainty), (response.Results[0].Estimate.BytesPerFrame, response.Results[0].Estimate.Certainty));
        Assert.NotEmpty(response.Results[0].Estimate.Source);
    }

    // A bit rate is that of the file as it plays: over-cranked four times, its frames arrive four times as fast.
    [Fact]
    public async Task EstimateRates_BitRateOverCranked_MultipliesTheRate()
    {
        RateItem item = new() { Coding = new() { BitRate = new() { AverageBitsPerSecond = 100_000_000 } }, Raster = new() { Width = 3840, Height = 2160 }, SensorRate = Rate(100), ProjectRate = Rate(25) };
        RateEstimate estimate = (await Clients.Footage.EstimateRatesAsync(new() { Items = { item } })).Results[0].Estimate;
        Assert.Equal((500_000, 50_000_000), (estimate.BytesPerFrame, estimate.PictureBytesPerSecond.Numerator));
    }

    [Theory]
    [InlineData(Packing.Tight, 10, 0, 41_472_000 / 4 * 3)]
    [InlineData(Packing.Word16, 10, 0, 49_766_400)]
    [InlineData(Packing.Word32, 10, 2048, 33_177_600 + 2048)]
    public async Task EstimateRates_Uncompressed_CountsPacking(Packing packing, int depth, long header, long bytes)
    {
        UncompressedCoding coding = new() { Sampling = Sampling.Rgb, BitDepth = depth, Packing = packing, HeaderBytes = header };
        EstimateRatesResponse response = await Clients.Footage.EstimateRatesAsync(new() { Items = { new RateItem { Coding = new() { Uncompressed = coding }, Raster = new() { Width = 3840, Height = 2160 }, SensorRate = Rate(24) } } });
        Assert.Equal(bytes, response.Results[0].Estimate.BytesPerFrame);
    }

    [Fact]
    public async Task EstimateRates_OneBadItem_IsAnsweredWithEverythingThatIsWrongAndTheOthersWithValues()
    {
        RateItem bad = new() { Label = "bad", Coding = new() { Raw = new() { BitDepth = 99 } }, Raster = new() { Width = 0, Height = 2160 }, SensorRate = new() { Numerator = 24, Denominator = 0 } };
        EstimateRatesResponse response = await Clients.Footage.EstimateRatesAsync(new() { Items = { ClipR(), bad, ClipR() } });
        Assert.Equal(["", "bad", ""], response.Results.Select(r => r.Label));
        Assert.Equal(4_423_680, response.Results[2].Estimate.BytesPerFrame);
        ItemError error = response.Results[1].Error;
        Assert.Equal("coding.raw.bit_depth", error.Field);
        Assert.StartsWith("is 99; allowed is 1 to 32", error.Description, StringComparison.Ordinal);
        Assert.Contains("raster.width is 0; allowed is 1 to 65535", error.Description, StringComparison.Ordinal);
        Assert.Contains("sensor_rate.denominator is 0; allowed is 1 or more", error.Description, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("raw-13", "coding.catalogue_name", "raw-12")]
    [InlineData("", "coding", "has no kind")]
    public async Task EstimateRates_UnknownCoding_SaysWhatIsNear(string name, string field, string text)
    {
        RateItem item = ClipR();
        item.Coding = name.Length > 0 ? new() { CatalogueName = name } : new();
        ItemError error = (await Clients.Footage.EstimateRatesAsync(new() { Items = { item } })).Results[0].Error;
        Assert.Equal(field, error.Field);
        Assert.Contains(text, error.Description, StringComparison.Ordinal);
    }

    [Fact]
    public async Task EstimateRates_OwnCodings_ComeFirstAndTheirFaultsAreSaidWithTheirLines()
    {
        RateItem item = ClipR();
        item.Coding = new() { CatalogueName = "house" };
        EstimateRatesResponse response = await Clients.Footage.EstimateRatesAsync(new() { Items = { item }, OwnCodings = "id,kind,source,bits_per_pixel\nhouse,bits-per-pixel,measured by us,3.5\n" });
        Assert.Equal(3_870_720, response.Results[0].Estimate.BytesPerFrame);
        ServiceCallException refused = await Assert.ThrowsAsync<ServiceCallException>(async () =>
            await Clients.Footage.EstimateRatesAsync(new() { Items = { item }, OwnCodings = "id,kind,source\nhouse,none,measured by us\n" }));
        Assert.Equal(StatusCode.InvalidArgument, refused.StatusCode);
        Assert.Contains("line 2, column 7, kind", refused.Violations[0].ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task EstimateRates_TooManyItems_IsRefused()
    {
        EstimateRatesRequest request = new();
        request.Items.AddRange(Enumerable.Repeat(new RateItem(), 10_001));
        ServiceCallException refused = await Assert.ThrowsAsync<ServiceCallException>(async () => await Clients.Footage.EstimateRatesAsync(request));
        Assert.Contains("items", refused.Violations[0].ToString(), StringComparison.Ordinal);
    }

    // Model-based: columns answer what items answer, mode by mode, and say which modes have no value and why.
    [Fact]
    public async Task EstimateRateColumns_ManyModes_EqualTheItems()
    {
        ListCodingsResponse catalogue = await Clients.Footage.ListCodingsAsync(new());
        EstimateRatesRequest items = new();
        EstimateRateColumnsRequest columns = new();
        for (int i = 0; i < 400; i++)
        {
            CodingEntry coding = catalogue.Codings[i % catalogue.Codings.Count];
            RateItem item = new() { Coding = new() { CatalogueName = coding.Name }, Raster = new() { Width = 640 + (i * 7 % 3000), Height = 480 + (i * 5 % 1700) }, SensorRate = new() { Numerator = 24_000 + i, Denominator = 1001 } };
            items.Items.Add(item);
            columns.Codings.Add(item.Coding);
            columns.CodingIndexes.Add(i);
            columns.Widths.Add(item.Raster.Width);
            columns.Heights.Add(item.Raster.Height);
            columns.RateNumerators.Add(item.SensorRate.Numerator);
            columns.RateDenominators.Add(item.SensorRate.Denominator);
        }

        EstimateRatesResponse one = await Clients.Footage.EstimateRatesAsync(items);
        EstimateRateColumnsResponse all = await Clients.Footage.EstimateRateColumnsAsync(columns);
        Dictionary<int, ItemError> errors = all.Errors.ToDictionary(e => e.Index, e => e.Error);
        for (int i = 0; i < 400; i++)
        {
            if (one.Results[i].Error is { } error)
            {
                Assert.Equal(error, errors[i]);
                Assert.Equal(0, all.BytesPerFrame[i]);
                continue;
            }

            RateEstimate expected = one.Results[i].Estimate;
            Assert.Equal((expected.BytesPerFrame, expected.PeakBytesPerFrame), (all.BytesPerFrame[i], all.PeakBytesPerFrame[i]));
            Rational rate = expected.PictureBytesPerSecond;
            Assert.Equal((rate.Numerator + rate.Denominator - 1) / rate.Denominator, all.BytesPerSecond[i]);
        }

        Assert.NotEmpty(errors);
    }

    // A tree for the modes that are asked for, the same as an item's, and none for a mode without a value.
    [Fact]
    public async Task EstimateRateColumns_ExplainModes_GivesTheTreesOfItems()
    {
        EstimateRateColumnsRequest columns = new() { Codings = { ClipR().Coding }, CodingIndexes = { 0, 0, 0 }, Widths = { 4096, 0, 2048 }, Heights = { 2160, 1080, 1080 }, RateNumerators = { 24, 24, 24 }, RateDenominators = { 1, 1, 1 }, ExplainModes = { 2, 1, 0 } };
        EstimateRateColumnsResponse response = await Clients.Footage.EstimateRateColumnsAsync(columns);
        Assert.Equal([2, 0], response.Derivations.Select(d => d.Index));
        Derivation item = (await Clients.Footage.EstimateRatesAsync(new() { Items = { ClipR() }, Explain = true })).Results[0].Estimate.Derivation;
        Assert.Equal(item, response.Derivations[1].Derivation);
        Assert.Equal($"{response.BytesPerSecond[0]}", item.Value);
        columns.ExplainModes.Clear();
        Assert.Empty((await Clients.Footage.EstimateRateColumnsAsync(columns)).Derivations);
        columns.ExplainModes.Add(3);
        ServiceCallException refused = await Assert.ThrowsAsync<ServiceCallException>(async () => await Clients.Footage.EstimateRateColumnsAsync(columns));
        Assert.Equal("explain_modes[0] is 3; allowed is 0 to 2, a mode of the request", refused.Violations[0].ToString());
    }

    // The largest batch in columns, both ways within the limit of a message; one mode more is refused.
    [Fact]
    public async Task EstimateRateColumns_FiftyThousandModes_AreAnsweredAndOneMoreIsRefused()
    {
        EstimateRateColumnsRequest columns = new() { Codings = { ClipR().Coding } };
        columns.CodingIndexes.AddRange(new int[50_000]);
        columns.Widths.AddRange(Enumerable.Repeat(4096, 50_000));
        columns.Heights.AddRange(Enumerable.Repeat(2160, 50_000));
        columns.RateNumerators.AddRange(Enumerable.Range(1, 50_000).Select(i => (long)i));
        columns.RateDenominators.AddRange(Enumerable.Repeat(1L, 50_000));
        EstimateRateColumnsResponse response = await Clients.Footage.EstimateRateColumnsAsync(columns);
        Assert.Equal(Enumerable.Range(1, 50_000).Select(i => i * 4_423_680L), response.BytesPerSecond);
        columns.CodingIndexes.Add(0);
        ServiceCallException refused = await Assert.ThrowsAsync<ServiceCallException>(async () => await Clients.Footage.EstimateRateColumnsAsync(columns));
        Assert.Contains(refused.Violations, v => v.Field == "coding_indexes");
    }

    [Fact]
    public async Task EstimateRateColumns_UnlikeLengthsAndBadModes_AreRefusedOrSaid()
    {
        EstimateRateColumnsRequest request = new() { Codings = { new Coding { CatalogueName = "raw-12" } }, CodingIndexes = { 0, 1, 0 }, Widths = { 10, 10, 0 }, Heights = { 10, 10, 10 }, RateNumerators = { 24, 24, 24 }, RateDenominators = { 1, 1, 0 } };
        EstimateRateColumnsResponse response = await Clients.Footage.EstimateRateColumnsAsync(request);
        Assert.Equal([150, 0, 0], response.BytesPerFrame);
        Assert.Equal([3600, 0, 0], response.BytesPerSecond);
        Assert.Equal(["coding_indexes[1]", "modes[2].width"], response.Errors.Select(e => e.Error.Field));
        Assert.Contains("modes[2].rate.denominator is 0", response.Errors[1].Error.Description, StringComparison.Ordinal);
        request.Widths.RemoveAt(0);
        ServiceCallException refused = await Assert.ThrowsAsync<ServiceCallException>(async () => await Clients.Footage.EstimateRateColumnsAsync(request));
        Assert.Equal("widths", refused.Violations[0].Field);
    }

    [Fact]
    public async Task ListCodings_Catalogue_HasSources()
    {
        ListCodingsResponse response = await Clients.Footage.ListCodingsAsync(new());
        Assert.True(response.Codings.Count > 100);
        Assert.All(response.Codings, c => Assert.NotEmpty(c.Source));
        CodingEntry table = response.Codings.Single(c => c.Name == "vc3-1235");
        Assert.Equal((1920, 917_504L, null), (table.OnlyRaster.Width, table.BytesPerFrame, table.Derivation));
    }

    // Every coding has its tree on request; one that does not carry the raster asked for has neither bytes nor tree.
    [Fact]
    public async Task ListCodings_Explain_HasATreeForEveryCodingThatCarriesTheRaster()
    {
        ListCodingsResponse usual = await Clients.Footage.ListCodingsAsync(new() { Explain = true });
        Assert.All(usual.Codings, c =>
        {
            Assert.Equal($"{c.BytesPerFrame}", c.Derivation.Value);
            Assert.Equal((c.Formula, c.Source), (c.Derivation.Formula, c.Derivation.Source));
        });
        ListCodingsResponse cinema = await Clients.Footage.ListCodingsAsync(new() { Explain = true, Raster = new() { Width = 4096, Height = 2160 }, Rate = Rate(24) });
        Assert.Equal(4_423_680, cinema.Codings.Single(c => c.Name == "raw-12-3to1").BytesPerFrame);
        CodingEntry other = cinema.Codings.Single(c => c.Name == "vc3-1235");
        Assert.Equal((0L, null), (other.BytesPerFrame, other.Derivation));
        Assert.Equal("bit rate limit", cinema.Codings.Single(c => c.Name == "jpeg2000-cinema").Derivation.BindingLimit);
        ServiceCallException refused = await Assert.ThrowsAsync<ServiceCallException>(async () => await Clients.Footage.ListCodingsAsync(new() { Raster = new(), Rate = new() }));
        Assert.Equal(["raster.width", "raster.height", "rate.denominator"], refused.Violations.Select(v => v.Field));
    }

    [Fact]
    public async Task AssessRecordings_OverCeiling_SaysWhatWouldPass()
    {
        RecordingItem item = Recording(4_423_680, 96, 450);
        item.CompressionRatio = new() { Numerator = 3, Denominator = 1 };
        item.Raster = new() { Width = 4096, Height = 2160 };
        RecordingAssessment answer = (await Clients.Footage.AssessRecordingsAsync(new() { Items = { item }, Explain = true })).Results[0].Assessment;
        Assert.Equal((RecordingClass.OverCeiling, Verdict.Fail), (answer.RecordingClass, answer.Sustained));
        Assert.Equal((424_673_280, 382_500_000), (answer.NeededBytesPerSecond, answer.CeilingBytesPerSecond));
        Assert.Equal((86, 3.34), (answer.SustainableFramesPerSecond, answer.NeededRatio));
        Assert.Equal((1205.6, 4822.5), (Math.Round(answer.RecordSeconds, 1), Math.Round(answer.ScreenSeconds, 1)));
        Assert.Equal("write ceiling", answer.BindingLimit);
        Assert.True((long)answer.SustainableRaster.Width * answer.SustainableRaster.Height * 96 / 2 <= 382_500_000);
        Assert.Equal("fail", answer.Derivation.Value);
        Assert.Equal("trusted part of the media rating", answer.Derivation.Inputs.Single(i => i.Name == "write ceiling").Margin);
        Assert.Equal((answer.BindingLimit, answer.NextLimit), (answer.Derivation.BindingLimit, answer.Derivation.NextLimit));
    }

    [Fact]
    public async Task AssessRecordings_Burst_HasItsWindow()
    {
        RecordingItem item = Recording(13_271_040, 480, 900);
        item.Medium.Derating = new() { Numerator = 1, Denominator = 1 };
        item.ProjectRate = Rate(24);
        item.Buffer = new() { CapacityBytes = 96_000_000_000, Drain = DrainBehaviour.WhileRecording, TriggerPosition = new() { Numerator = 1, Denominator = 2 }, ResetSeconds = 5 };
        RecordingAssessment answer = (await Clients.Footage.AssessRecordingsAsync(new() { Items = { item } })).Results[0].Assessment;
        Assert.Equal((RecordingClass.Burst, Verdict.Fail), (answer.RecordingClass, answer.Sustained));
        Assert.Equal((16.22, 106.7, 111.7), (Math.Round(answer.Burst.WindowSeconds, 2), Math.Round(answer.Burst.DrainSeconds, 1), Math.Round(answer.Burst.ReadyAgainSeconds, 1)));
        Assert.Equal((96_000_000_000, 7783), (answer.Burst.BytesAtRisk, answer.Burst.Frames));
    }

    // Derived by hand: what manuals state. 4 s of the mode's 442,368,000 B/s; 95 s until ready less 5 s reset at 500 MB/s: 45 GB.
    [Fact]
    public async Task AssessRecordings_BufferKnownBySeconds_IsDerived()
    {
        RecordingItem seconds = Recording(3_686_400, 120, 260);
        seconds.Buffer = new() { StatedBurstSeconds = 4, Drain = DrainBehaviour.AfterCapture };
        RecordingItem again = Recording(13_271_040, 480, 500);
        again.Medium.Derating = new() { Numerator = 1, Denominator = 1 };
        again.Buffer = new() { StatedReadyAgainSeconds = 95, ResetSeconds = 5, Drain = DrainBehaviour.AfterCapture };
        RecordingItem never = again.Clone();
        never.Buffer.ResetSeconds = 95;
        AssessRecordingsResponse response = await Clients.Footage.AssessRecordingsAsync(new() { Items = { seconds, again, never }, Explain = true });
        Assert.Equal((4.0, 480L, 4 * 442_368_000L), (response.Results[0].Assessment.Burst.WindowSeconds, response.Results[0].Assessment.Burst.Frames, response.Results[0].Assessment.Burst.BytesAtRisk));
        Assert.Equal((45_000_000_000, 95.0), (response.Results[1].Assessment.Burst.BytesAtRisk, response.Results[1].Assessment.Burst.ReadyAgainSeconds));
        Assert.Contains(Nodes(response.Results[1].Assessment.Derivation), n => n is { Name: "buffer", Source: "(95 s until ready again − 5 s reset) × write ceiling" });
        Assert.Equal("buffer.stated_ready_again_seconds", response.Results[2].Error.Field);
    }

    [Theory]
    [InlineData(Verdict.Unspecified, Verdict.Unknown)]
    [InlineData(Verdict.Unknown, Verdict.Unknown)]
    [InlineData(Verdict.Pass, Verdict.Pass)]
    [InlineData(Verdict.Fail, Verdict.Fail)]
    public async Task AssessRecordings_WithinCeiling_NeedsEvidence(Verdict evidence, Verdict expected)
    {
        RecordingItem item = Recording(4_423_680, 24, 450);
        item.Evidence = evidence;
        RecordingAssessment answer = (await Clients.Footage.AssessRecordingsAsync(new() { Items = { item } })).Results[0].Assessment;
        Assert.Equal((RecordingClass.Sustained, expected, 1.0), (answer.RecordingClass, answer.Sustained, answer.NeededFurtherRatio));
    }

    [Fact]
    public async Task AssessRecordings_BufferWithoutOrWithTwoSizes_IsRefused()
    {
        RecordingItem none = Recording(13_271_040, 480, 900);
        none.Buffer = new();
        RecordingItem two = Recording(13_271_040, 480, 900);
        two.Buffer = new() { CapacityBytes = 1, StatedBurstSeconds = 1 };
        AssessRecordingsResponse response = await Clients.Footage.AssessRecordingsAsync(new() { Items = { none, two } });
        Assert.All(response.Results, r => Assert.Equal("buffer.capacity_bytes", r.Error.Field));
    }

    // Derived by hand: an hour of clip R, and a minute of it over-cranked four times.
    [Fact]
    public async Task SumModes_MixedDay_AddsModes()
    {
        RateItem fast = ClipR();
        fast.SensorRate = Rate(96);
        CameraModes camera = new() { Label = "A" };
        camera.Modes.Add(new ModeTime { Mode = ClipR(), RecordSeconds = new() { Numerator = 3600, Denominator = 1 } });
        camera.Modes.Add(new ModeTime { Mode = fast, RecordSeconds = new() { Numerator = 60, Denominator = 1 } });
        CameraModes bad = new() { Label = "B", Modes = { new ModeTime { Mode = ClipR() }, new ModeTime { RecordSeconds = new() { Numerator = 1, Denominator = 1 } } } };
        SumModesResponse response = await Clients.Footage.SumModesAsync(new() { Items = { camera, bad }, Explain = true });
        ModesTotal total = response.Results[0].Total;
        Assert.Equal([106_168_320L * 3600, 424_673_280L * 60], total.ModeBytes);
        Assert.Equal((response.Bytes, total.Bytes, 24 * 3600 + (96 * 60)), (total.Bytes, total.ModeBytes.Sum(), total.Frames));
        Assert.Equal($"{total.Bytes}", total.Derivation.Value);
        ItemError error = response.Results[1].Error;
        Assert.Equal("modes[0].record_seconds", error.Field);
        Assert.Contains("modes[1].mode is not set", error.Description, StringComparison.Ordinal);
    }

    [Fact]
    public async Task CutTakes_ReferenceTake_Is18FilesTheLastOf790()
    {
        TakesItem item = new() { TakeFrames = { 17_280, 970 }, BytesPerFrame = 4_423_680, FileSystem = FileSystem.Fat32 };
        TakesTally tally = (await Clients.Footage.CutTakesAsync(new() { Items = { item } })).Results[0].Tally;
        Assert.Equal((18, 970, 790), (tally.Takes[0].Files, tally.Takes[0].FramesPerFile, tally.Takes[0].LastFrames));
        Assert.Equal((19, 18_250, 18_250 * 4_423_680L), (tally.Files, tally.Frames, tally.Bytes));
    }

    [Fact]
    public async Task CompareVolumes_ReferencePlan_IsFlagged()
    {
        CompareVolumesRequest request = new()
        {
            Days = 25,
            Cameras = 3,
            HoursPerCameraDay = new() { Numerator = 5, Denominator = 2 },
            FinishedSeconds = new() { Numerator = 6600, Denominator = 1 },
            ShootingRatio = new() { Numerator = 25, Denominator = 1 },
            BytesPerSecond = new() { Numerator = 106_168_320, Denominator = 1 },
        };
        CompareVolumesResponse response = await Clients.Footage.CompareVolumesAsync(request);
        Assert.Equal((71_663_616_000_000, true, 102), (response.BytesByDays, response.Flagged, Math.Round(response.ImpliedRatio)));
        request.Days = 0;
        request.ShootingRatio = null;
        ServiceCallException refused = await Assert.ThrowsAsync<ServiceCallException>(async () => await Clients.Footage.CompareVolumesAsync(request));
        Assert.Equal(["days", "shooting_ratio"], refused.Violations.Select(v => v.Field));
    }

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

    [Fact]
    public async Task PlanOccupancy_TwoTiers_ShowsBothPeaksAndTheAlarms()
    {
        PlanOccupancyRequest request = new() { Explain = true };
        request.Tiers.Add(new Tier { Label = "online", UsableBytes = 100_000, Redundancy = new() { Numerator = 5, Denominator = 4 } });
        request.Tiers.Add(new Tier { Label = "nearline" });
        request.Generations.Add(new Generation { Label = "originals", Tier = "nearline", Bytes = 70_000, Copies = 2, FromSeconds = 0, CompleteSeconds = 1000 });
        request.Generations.Add(new Generation { Label = "mezzanine", Tier = "online", Bytes = 90_000, Copies = 1, FromSeconds = 0, CompleteSeconds = 900, PurgeSeconds = 2000, PurgeTrigger = "delivery accepted" });
        PlanOccupancyResponse response = await Clients.Storage.PlanOccupancyAsync(request);
        TierOccupancy online = response.Tiers[0];
        Assert.Equal((90_000, 900, 0), (online.PeakBytes, online.PeakSeconds, online.EndBytes));
        Assert.Equal((800, 900, false), (online.AlarmSeconds, online.StopIngestSeconds, online.HasFullSeconds));
        Assert.Equal((140_625, -10_000), (online.ToBuyBytes, online.SpareBytes));
        Assert.Equal([(0, 0), (900, 90_000), (2000, 90_000), (2000, 0)], online.Points.Select(p => (p.AtSeconds, p.Bytes)));
        Assert.Equal((140_000, 175_000), (response.Tiers[1].PeakBytes, response.Tiers[1].ToBuyBytes));
        Assert.Equal((230_000, 1000), (response.PeakBytes, response.PeakSeconds));
        Assert.Equal("140625", online.Derivation.Value);
    }

    [Fact]
    public async Task PlanOccupancy_Wrong_CollectsEveryViolation()
    {
        PlanOccupancyRequest request = new();
        request.Tiers.Add(new Tier { Label = "online", Free = new() { Numerator = 1, Denominator = 1 } });
        request.Generations.Add(new Generation { Label = "originals", Tier = "onlin", Bytes = -1, Copies = 0, FromSeconds = 10, CompleteSeconds = 5 });
        ServiceCallException refused = await Assert.ThrowsAsync<ServiceCallException>(async () => await Clients.Storage.PlanOccupancyAsync(request));
        Assert.Equal(
            ["tiers[0]", "generations[0].tier", "generations[0].bytes", "generations[0].copies", "generations[0].complete_seconds"],
            refused.Violations.Select(v => v.Field));
    }

    // Exact at 9 EB, refused beyond, never wrapped.
    [Fact]
    public async Task PlanOccupancy_NineExabytes_IsExactAndBeyondIsRefused()
    {
        PlanOccupancyRequest request = new();
        request.Tiers.Add(new Tier { Label = "archive", Free = new() { Numerator = 0, Denominator = 1 } });
        request.Generations.Add(new Generation { Label = "masters", Tier = "archive", Bytes = 9_000_000_000_000_000_000, Copies = 1 });
        Assert.Equal(9_000_000_000_000_000_000, (await Clients.Storage.PlanOccupancyAsync(request)).Tiers[0].ToBuyBytes);
        request.Generations.Add(new Generation { Label = "more", Tier = "archive", Bytes = 300_000_000_000_000_000, Copies = 1 });
        ServiceCallException refused = await Assert.ThrowsAsync<ServiceCallException>(async () => await Clients.Storage.PlanOccupancyAsync(request));
        Assert.Equal("generations", refused.Violations[0].Field);
    }

    [Fact]
    public async Task CountCards_ReferenceLoops_CountOrRefuse()
    {
        CardLoop Loop(int cameras, double duty) => new() { Cameras = cameras, Stations = 1, CardSeconds = 77.2226 * 60, Duty = duty, StationSeconds = 4096, OtherSeconds = 2400, SpareCards = 1 };
        CountCardsResponse response = await Clients.Offload.CountCardsAsync(new() { Items = { Loop(1, 1), Loop(3, 1), Loop(3, 0.25), Loop(0, 2) } });
        Assert.Equal([4, 0, 3], response.Results.Take(3).Select(r => r.Count.CardsPerCamera));
        Assert.True(response.Results[1].Count.NeverCatchesUp);
        Assert.Equal("cameras", response.Results[3].Error.Field);
        Assert.Contains("duty is 2", response.Results[3].Error.Description, StringComparison.Ordinal);
    }

    [Fact]
    public async Task ReviewRelease_UnknownFact_MeansDoNotClearAndNothingIsCalledSafe()
    {
        EvidenceItem item = new() { Label = "A001" };
        EvidenceSheet blank = (await Clients.Offload.ReviewReleaseAsync(new() { Items = { item } })).Results[0].Sheet;
        Assert.Equal((10, 0), (blank.Unknown, blank.Absent));
        Assert.StartsWith("Do not clear", blank.Foot, StringComparison.Ordinal);
        item.Facts.AddRange(blank.Facts.Select(f => new EvidenceFact { Fact = f.Fact, State = EvidenceState.Present }));
        EvidenceSheet all = (await Clients.Offload.ReviewReleaseAsync(new() { Items = { item } })).Results[0].Sheet;
        Assert.Equal(0, all.Unknown + all.Absent);
        Assert.DoesNotContain("safe", all.ToString(), StringComparison.OrdinalIgnoreCase);
        Assert.Contains("named person", all.Foot, StringComparison.Ordinal);
        ItemError error = (await Clients.Storage.ReviewPurgeAsync(new() { Items = { item } })).Results[0].Error;
        Assert.Equal("facts[0].fact", error.Field);
    }

    [Fact]
    public async Task PlanTapes_ReferenceVolume_IsTenCartridges()
    {
        TapeItem item = new() { Bytes = 71_663_616_000_000, OtherPart = new() { Numerator = 3, Denominator = 20 }, Generation = 9, DriveBytesPerSecond = 300e6, ReadBackGeneration = 10 };
        TapePlan plan = (await Clients.Offload.PlanTapesAsync(new() { Items = { item } })).Results[0].Plan;
        Assert.Equal((5, 10, 305, 4.98), (plan.CartridgesPerSet, plan.Cartridges, Math.Round(plan.DriveHours), Math.Round(plan.CartridgesExact, 2)));
        Assert.Equal(Verdict.Fail, plan.ReadBack);
        Assert.Equal(["other material", "cartridge fill"], plan.Margins);
    }

    [Fact]
    public async Task EstimateTransfers_WireAndRoad_NameTheirLimits()
    {
        EstimateTransfersRequest request = new();
        request.Items.Add(new TransferItem { Bytes = 1_000_000_000_000, Wire = new() { LineBitsPerSecond = 1e9, RoundTripMilliseconds = 100, Loss = 1e-4 } });
        request.Items.Add(new TransferItem { Bytes = 1_000_000_000_000, Road = new() { WriteBytesPerSecond = 500e6, ReadBytesPerSecond = 500e6, TravelHours = 3, Verified = true } });
        request.Items.Add(new TransferItem());
        EstimateTransfersResponse response = await Clients.Offload.EstimateTransfersAsync(request);
        Assert.Equal(("loss and round trip", "line"), (response.Results[0].Transfer.BindingLimit, response.Results[0].Transfer.NextLimit));
        Assert.Equal((5.22, "the way"), (Math.Round(response.Results[1].Transfer.Hours, 2), response.Results[1].Transfer.BindingLimit));
        Assert.Equal("way", response.Results[2].Error.Field);
    }

    [Fact]
    public async Task Storage_DisksStreamsSeatsPower_AnswerTheWorkedExamples()
    {
        DiskPlan disks = (await Clients.Storage.PlanDisksAsync(new() { Items = { new DiskItem { Drives = 24, DriveBytes = 20_000_000_000_000, DataDrives = 8, ParityDrives = 2, SpareDrives = 2, RebuildBytesPerSecond = 200e6 } } })).Results[0].Plan;
        Assert.Equal((320_000_000_000_000, 256_000_000_000_000, 1.25), (disks.UsableBytes, disks.PlannableBytes, disks.CostFactor));
        StreamItem link = new() { LineBitsPerSecond = 1_000_000_000, StreamBytesPerSecond = new() { Numerator = 87_390_000, Denominator = 1 } };
        StreamCount streams = (await Clients.Storage.CountStreamsAsync(new() { Items = { link } })).Results[0].Count;
        Assert.Equal((0, 1, true), (streams.Plannable, streams.Physical, streams.Tight));
        CheckSeatsResponse seats = await Clients.Storage.CheckSeatsAsync(new() { Items = { new SeatItem { Layers = 4, Rate = Rate(25), MeasuredFramesPerSecond = 149 }, new SeatItem { Layers = 4, Rate = Rate(25) } } });
        Assert.Equal([SeatVerdict.Tight, SeatVerdict.NotMeasured], seats.Results.Select(r => r.Check.Verdict));
        PowerEstimate power = (await Clients.Storage.EstimatePowerAsync(new() { Items = { new PowerItem { Watts = 9300, Volts = 230 } } })).Results[0].Estimate;
        Assert.Equal((31_732, 53.2), (Math.Round(power.HeatBtuPerHour), Math.Round(power.CircuitAmperes, 1)));
        Assert.Contains("electrician", power.Caution, StringComparison.Ordinal);
    }

    [Fact]
    public async Task SumDemand_SeatsAndFarm_SaysWhatIsLeftForNodes()
    {
        SumDemandRequest request = new() { MeasuredBytesPerSecond = 2_000e6, Node = new() { BytesPerFrame = 57_507_840, SecondsPerFrame = 0.5 } };
        request.Seats.Add(new SeatDemand { Count = 4, Streams = 2, StreamBytesPerSecond = new() { Numerator = 100_000_000, Denominator = 1 } });
        SumDemandResponse response = await Clients.Storage.SumDemandAsync(request);
        Assert.Equal((800e6, 8, 10.4), (response.DemandBytesPerSecond, response.Readers, Math.Round(response.NodesFed, 1)));
        request.Seats[0].Streams = 0;
        ServiceCallException refused = await Assert.ThrowsAsync<ServiceCallException>(async () => await Clients.Storage.SumDemandAsync(request));
        Assert.Equal("seats[0].streams", refused.Violations[0].Field);
    }

    // Every kind of answer has its tree on request, and none without; every node of it has a name and a value.
    [Fact]
    public async Task Explain_EveryAnswer_HasItsTreeOnRequestOnly()
    {
        foreach (bool explain in (bool[])[true, false])
        {
            TakesItem takes = new() { TakeFrames = { 100 }, BytesPerFrame = 1000, FileSystem = FileSystem.Fat32 };
            CompareVolumesRequest volumes = new()
            {
                Days = 1,
                Cameras = 1,
                HoursPerCameraDay = new() { Numerator = 1, Denominator = 1 },
                FinishedSeconds = new() { Numerator = 60, Denominator = 1 },
                ShootingRatio = new() { Numerator = 60, Denominator = 1 },
                BytesPerSecond = new() { Numerator = 1000, Denominator = 1 },
                Explain = explain,
            };
            CardLoop loop = new() { Cameras = 1, Stations = 1, CardSeconds = 100, Duty = 1, StationSeconds = 50, SpareCards = 1 };
            StreamItem stream = new() { ArrayBytesPerSecond = 1000, StreamBytesPerSecond = new() { Numerator = 10, Denominator = 1 } };
            RecordingItem recording = Recording(4_423_680, 24, 450);
            SimulateDaysRequest day = new() { Means = Means(1), Explain = explain };
            day.Days.Add(new OffloadDay { WrapSeconds = 100, Cameras = { new CameraDay { Camera = "A", CardBytes = 10, Takes = { new RecordedTake { EndSeconds = 10, Bytes = 25, Files = 1 } } } } });
            PlanOccupancyRequest occupancy = new() { Explain = explain, Tiers = { new Tier { Label = "online" } }, Generations = { new Generation { Label = "originals", Tier = "online", Bytes = 10, Copies = 1 } } };
            EvidenceItem sheet = new() { Label = "A001", Facts = { new EvidenceFact { Fact = "copies equal", State = EvidenceState.Absent } } };
            TransferItem wire = new() { Bytes = 1000, Wire = new() { LineBitsPerSecond = 1e9 } };
            TransferItem road = new() { Bytes = 1000, Road = new() { WriteBytesPerSecond = 100, ReadBytesPerSecond = 100 } };
            EstimateTransfersResponse transfers = await Clients.Offload.EstimateTransfersAsync(new() { Items = { wire, road }, Explain = explain });
            Derivation?[] trees =
            [
                (await Clients.Footage.EstimateRatesAsync(new() { Items = { ClipR() }, Explain = explain })).Results[0].Estimate.Derivation,
                (await Clients.Footage.ListCodingsAsync(new() { Explain = explain })).Codings[0].Derivation,
                (await Clients.Footage.AssessRecordingsAsync(new() { Items = { recording }, Explain = explain })).Results[0].Assessment.Derivation,
                (await Clients.Footage.SumModesAsync(new() { Items = { new CameraModes { Modes = { new ModeTime { Mode = ClipR(), RecordSeconds = new() { Numerator = 1, Denominator = 1 } } } } }, Explain = explain })).Results[0].Total.Derivation,
                (await Clients.Offload.SimulateDaysAsync(day)).Results[0].Offload.Derivation,
                (await Clients.Offload.ReviewReleaseAsync(new() { Items = { sheet }, Explain = explain })).Results[0].Sheet.Derivation,
                (await Clients.Storage.ReviewPurgeAsync(new() { Items = { new EvidenceItem { Label = "mezzanine" } }, Explain = explain })).Results[0].Sheet.Derivation,
                (await Clients.Storage.PlanOccupancyAsync(occupancy)).Tiers[0].Derivation,
                (await Clients.Footage.CutTakesAsync(new() { Items = { takes }, Explain = explain })).Results[0].Tally.Derivation,
                (await Clients.Footage.CompareVolumesAsync(volumes)).Derivation,
                (await Clients.Offload.CountCardsAsync(new() { Items = { loop }, Explain = explain })).Results[0].Count.Derivation,
                (await Clients.Offload.PlanTapesAsync(new() { Items = { new TapeItem { Bytes = 1, Generation = 9 } }, Explain = explain })).Results[0].Plan.Derivation,
                transfers.Results[0].Transfer.Derivation,
                transfers.Results[1].Transfer.Derivation,
                (await Clients.Storage.PlanDisksAsync(new() { Items = { new DiskItem { Drives = 10, DriveBytes = 10, DataDrives = 8, ParityDrives = 2 } }, Explain = explain })).Results[0].Plan.Derivation,
                (await Clients.Storage.CountStreamsAsync(new() { Items = { stream }, Explain = explain })).Results[0].Count.Derivation,
                (await Clients.Storage.CheckSeatsAsync(new() { Items = { new SeatItem { Layers = 1, Rate = Rate(25) } }, Explain = explain })).Results[0].Check.Derivation,
                (await Clients.Storage.SumDemandAsync(new() { Explain = explain })).Derivation,
                (await Clients.Storage.EstimatePowerAsync(new() { Items = { new PowerItem { Watts = 1, Volts = 230 } }, Explain = explain })).Results[0].Estimate.Derivation,
            ];
            Assert.All(trees, t => Assert.Equal(explain, t is not null));
            Assert.All(trees.OfType<Derivation>(), t =>
            {
                Assert.NotEmpty(t.Formula);
                Assert.NotEmpty(t.Inputs);
                Assert.All(Nodes(t), n => Assert.True(n.Value.Length > 0 && n.Name.Length > 0));
            });
        }
    }

    private static IEnumerable<Derivation> Nodes(Derivation tree) => tree.Inputs.SelectMany(Nodes).Append(tree);

    private static RateItem ClipR() => new()
    {
        Coding = new() { Raw = new() { BitDepth = 12, CompressionRatio = new() { Numerator = 3, Denominator = 1 } } },
        Raster = new() { Width = 4096, Height = 2160 },
        SensorRate = Rate(24),
        ProjectRate = Rate(24),
    };

    private static RecordingItem Recording(long bytes, int rate, int megabytes) => new()
    {
        BytesPerFrame = bytes,
        SensorRate = Rate(rate),
        ProjectRate = Rate(24),
        Medium = new() { CapacityBytes = 512_000_000_000, RatedBytesPerSecond = new() { Numerator = megabytes * 1_000_000L, Denominator = 1 } },
    };

    private static OffloadMeans Means(int stations) => new()
    {
        Stations = stations,
        ReaderBytesPerSecond = 800e6,
        Verify = VerifyLevel.Destinations,
        SpareCards = 1,
        Destinations =
        {
            new Destination { Label = "first", SustainedBytesPerSecond = 1200e6 }, new Destination { Label = "second", SustainedBytesPerSecond = 450e6 },
            new Destination { Label = "third", SustainedBytesPerSecond = 250e6 },
        },
    };

    private static FrameRate Rate(int framesPerSecond) => new() { Numerator = framesPerSecond, Denominator = 1 };
}

public sealed class EmbeddedFootageTests : FootageContract<EmbeddedTransport>;

public sealed class NetworkFootageTests : FootageContract<KestrelTransport>;
