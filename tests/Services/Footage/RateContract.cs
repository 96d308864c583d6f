using Grpc.Core;
using PostPipeline.Client;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Contracts.Types.V1;
using PostPipeline.Services.Tests.Transports;
using Xunit;
using static PostPipeline.Services.Tests.Footage.FootageSamples;

namespace PostPipeline.Services.Tests.Footage;

/// <summary>Rates of modes, item by item. Clip R: common practice, no source; see the domain's tests.</summary>
public abstract class RateContract<TTransport> : FootageHostContract<TTransport>
    where TTransport : ITransportFactory
{
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
}

public sealed class EmbeddedRateTests : RateContract<EmbeddedTransport>;

public sealed class NetworkRateTests : RateContract<KestrelTransport>;
