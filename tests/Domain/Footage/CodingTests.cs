using CsCheck;
using PostPipeline.Footage.Codings;
using PostPipeline.Footage.Rates;
using PostPipeline.Quantities;
using Xunit;

namespace PostPipeline.Domain.Tests.Footage;

public class CodingTests
{
    private static readonly Raster Cinema4K = Raster.From(4096, 2160);

    [Fact]
    public void Standard_EveryCoding_HasASourceATitleAndBytes()
    {
        Assert.True(CodingCatalogue.Standard.Codings.Count > 100);
        foreach (Coding coding in CodingCatalogue.Standard.Codings)
        {
            Raster raster = coding.OnlyRaster ?? Raster.From(1920, 1080);
            FrameBytes bytes = coding.BytesPerFrame(raster, FrameRate.Fps24);
            Assert.True(bytes.Average > 0, coding.Id);
            Assert.NotEmpty(coding.Source);
            Assert.NotEmpty(coding.Definition.Title);
            Assert.NotEmpty(coding.Formula);
            Assert.NotEmpty(coding.Inputs(raster, FrameRate.Fps24));
        }
    }

    // Reference clip R (common practice, no source): 4096×2160, 12-bit, one value a photosite, 3:1.
    [Fact]
    public void Photosites_ReferenceClip_HasItsBytes()
    {
        Assert.Equal(13_271_040, CodingCatalogue.Standard.Find("raw-12").BytesPerFrame(Cinema4K, FrameRate.Fps24).Average);
        RateEstimate clip = RateEstimate.Of(CodingCatalogue.Standard.Find("raw-12-3to1"), Cinema4K, FrameRate.Fps24);
        Assert.Equal(4_423_680, clip.Frame.Average);
        Assert.Equal(106_168_320, clip.Picture.BytesPerSecond);
        Assert.Equal(382_205_952_000, clip.BytesPerHour);
        Assert.Equal(4, clip.BitsPerPixel);
    }

    // 12 bits carried in 16 is a third more (common practice, no source).
    [Fact]
    public void Photosites_TwelveInSixteen_IsAThirdMore()
    {
        Rational twelve = CodingCatalogue.Standard.Find("raw-12").BytesPerFrame(Cinema4K, FrameRate.Fps24).Average;
        Assert.Equal(new Rational(4, 3), CodingCatalogue.Standard.Find("raw-12-in-16").BytesPerFrame(Cinema4K, FrameRate.Fps24).Average / twelve);
    }

    // A ratio means nothing without its base: 12-bit raw at 3:1 is 4 bit/px, 10-bit 4:2:2 at 40/7:1 is 3.5 bit/px.
    [Fact]
    public void BaseBitsPerPixel_TwoRatios_AreComparedByBits()
    {
        Assert.Equal(12, CodingCatalogue.Standard.Find("raw-12-3to1").BaseBitsPerPixel);
        Assert.Equal("12-bit photosites", CodingCatalogue.Standard.Find("raw-12-3to1").BaseInWords);
        Assert.Equal(20, CodingCatalogue.Standard.Find("rdd36-3").BaseBitsPerPixel);
        Coding stated = Coding.From(new() { Id = "own", Source = "test", Kind = CodingKind.BitsPerPixel, Sampling = Sampling.Chroma422, BitDepth = 10, BitsPerPixel = new(7, 2) });
        Assert.Equal(new Rational(40, 7), stated.BaseBitsPerPixel / new Rational(7, 2));
    }

    // Worked example (common practice, no source): 10-bit RGB in 32-bit words with a 2,048 B header; half RGB scan lines.
    [Fact]
    public void BytesPerFrame_ImageFiles_HaveHandWorkedSizes()
    {
        Assert.Equal(33_179_648, CodingCatalogue.Standard.Find("st268-444-10").BytesPerFrame(Raster.From(3840, 2160), FrameRate.Fps24).Average);
        CodingDefinition half = CodingCatalogue.Standard.Find("openexr-half-rgb").Definition;
        Assert.Equal(53_084_160 + (16 * 2160) + 593, Coding.From(half with { HeaderBytes = 593 }).BytesPerFrame(Cinema4K, FrameRate.Fps24).Average);
    }

    [Theory]
    [InlineData("uncompressed-400-8", 3, 3, 9)]
    [InlineData("uncompressed-420-8", 3, 3, 9 + 4 + 4)]
    [InlineData("uncompressed-411-8", 5, 2, 10 + 4 + 4)]
    [InlineData("uncompressed-422-8", 3, 3, 9 + 6 + 6)]
    [InlineData("uncompressed-444-10", 3, 3, 34)]
    [InlineData("uncompressed-444-10-in-32", 3, 3, 36)]
    [InlineData("uncompressed-422-8-alpha", 3, 3, 9 + 6 + 6 + 9)]
    public void BytesPerFrame_OddSides_RoundColourDifferenceUp(string id, int width, int height, long bytes) =>
        Assert.Equal(bytes, CodingCatalogue.Standard.Find(id).BytesPerFrame(Raster.From(width, height), FrameRate.Fps24).Average);

    [Theory]
    [InlineData(Sampling.Full444, 10, 256, 3, 256 * 2)]
    [InlineData(Sampling.Chroma422, 10, 256, 5, 256 * 2)]
    [InlineData(Sampling.Chroma420, 8, 64, 10, (64 * 4) + (64 * 2 * 2))]
    public void BytesPerFrame_RowMultiple_PadsEachRow(Sampling sampling, int depth, int multiple, int width, long bytes)
    {
        int height = sampling == Sampling.Chroma420 ? 4 : 2;
        CodingDefinition definition = new() { Id = "own", Source = "test", Kind = CodingKind.Packed, Sampling = sampling, BitDepth = depth, Packing = Packing.Tight, RowAlignmentBytes = multiple };
        Assert.Equal(bytes, Coding.From(definition).BytesPerFrame(Raster.From(width, height), FrameRate.Fps24).Average);
    }

    // ITU-T H.264 table A-1: 1920×1088 at 30 is 8,160 blocks and 244,800 a second: level 4; at 60 level 4.2; 3840×2160 at 30 level 5.1.
    [Theory]
    [InlineData(1920, 1080, 30, "4")]
    [InlineData(1920, 1080, 31, "4.2")]
    [InlineData(1920, 1080, 60, "4.2")]
    [InlineData(3840, 2160, 30, "5.1")]
    [InlineData(3840, 2160, 60, "5.2")]
    [InlineData(176, 144, 15, "1")]
    public void LevelFor_RasterAndRate_IsTheLowestThatCarriesThem(int width, int height, int rate, string level) =>
        Assert.Equal(level, ((LevelCoding)CodingCatalogue.Standard.Find("h264-high")).LevelFor(Raster.From(width, height), FrameRate.From(rate)).Name);

    // ITU-T H.265 table A.9: high tier begins at level 4.
    [Fact]
    public void LevelFor_TierThatALevelLacks_TakesTheNextLevelWithIt()
    {
        LevelCoding high = (LevelCoding)CodingCatalogue.Standard.Find("h265-high-tier");
        Assert.Equal("4", high.LevelFor(Raster.From(176, 144), FrameRate.Fps25).Name);
        Assert.Equal(30_000_000 / 8 / 25, high.BytesPerFrame(Raster.From(176, 144), FrameRate.Fps25).Peak);
    }

    [Fact]
    public void LevelFor_TooLargeForAnyLevel_IsRefusedSayingTheHighest()
    {
        ArgumentOutOfRangeException thrown = Assert.Throws<ArgumentOutOfRangeException>(() =>
            CodingCatalogue.Standard.Find("h264-high").BytesPerFrame(Raster.From(16_384, 16_384), FrameRate.Fps24));
        Assert.Contains("139264", thrown.Message, StringComparison.Ordinal);
    }

    // ISO/IEC 15444-1 Amd 8: three components of 3840×2160 at 60 are 1,493 Msample/s, above main level 6 (1,200).
    [Fact]
    public void Inputs_BroadcastSubLevel_NamesTheMainLevel() =>
        Assert.Contains(("level by samples a second", "7", string.Empty), CodingCatalogue.Standard.Find("jpeg2000-sublevel-3").Inputs(Raster.From(3840, 2160), FrameRate.From(60)));

    [Fact]
    public void FixedFrame_AnotherRaster_IsRefusedNamingTheOneItCarries()
    {
        ArgumentOutOfRangeException thrown = Assert.Throws<ArgumentOutOfRangeException>(() =>
            CodingCatalogue.Standard.Find("vc3-1235").BytesPerFrame(Raster.From(1280, 720), FrameRate.Fps24));
        Assert.Contains("1920×1080", thrown.Message, StringComparison.Ordinal);
    }

    // Derived by hand: 2 channels × 48,000 × 3 B; 1,001/24,000 s of it is 2,002 samples a channel.
    [Fact]
    public void AudioTracks_Stereo_HasHandWorkedBytes()
    {
        AudioTracks stereo = AudioTracks.From(2, 24, 48_000);
        Assert.Equal(288_000, stereo.BytesPerSecond);
        Assert.Equal(2002 * 6, stereo.BytesFor(FrameRate.Fps24000Over1001.SecondsPerFrame));
        Assert.Equal(4 * 96_000 * 4, AudioTracks.From(4, 32, 96_000).BytesPerSecond);
        Assert.Throws<ArgumentOutOfRangeException>(() => AudioTracks.From(2, 20));
    }

    // IEC 80000-13: (1024/1000)³ − 1 = 7.37 %; 1 TB = 0.9095 TiB.
    [Fact]
    public void Excess_BinaryUnits_IsExact()
    {
        Assert.Equal(new Rational(73_741_824, 1_000_000_000), BinaryUnits.Excess(3));
        Assert.Equal(0.9095, DataSize.FromBytes(1_000_000_000_000).Tebibytes, 4);
        Assert.Equal([2.4, 4.86, 7.37, 9.95, 12.59], Enumerable.Range(1, 5).Select(p => Math.Round(BinaryUnits.Excess(p).ToDouble() * 100, 2)));
    }

    // Properties: bytes never shrink with the raster; a rational ratio is never rounded down.
    [Fact]
    public void BytesPerFrame_LargerRaster_IsNeverSmaller() =>
        Gen.Select(Gen.Int[0, CodingCatalogue.Standard.Codings.Count - 1], Gen.Int[64, 4000], Gen.Int[64, 2000], Gen.Int[0, 64]).Sample((index, width, height, more) =>
        {
            Coding coding = CodingCatalogue.Standard.Codings[index];
            if (coding.OnlyRaster is null && coding.Definition.Kind != CodingKind.Level)
            {
                Assert.True(coding.BytesPerFrame(Raster.From(width + more, height + more), FrameRate.Fps24).Average >= coding.BytesPerFrame(Raster.From(width, height), FrameRate.Fps24).Average);
            }
        });

    [Fact]
    public void Photosites_AnyRatio_IsTheCeilingOfTheExactFraction() =>
        Gen.Select(Gen.Int[1, 5000], Gen.Int[1, 5000], Gen.Int[8, 16], Gen.Int[100, 2000]).Sample((width, height, depth, hundredths) =>
        {
            Rational ratio = new(hundredths, 100);
            Coding coding = Coding.From(new() { Id = "own", Source = "test", Kind = CodingKind.Photosites, BitDepth = depth, CompressionRatio = ratio });
            long bytes = coding.BytesPerFrame(Raster.From(width, height), FrameRate.Fps24).Average;
            Rational exact = (long)width * height * depth / (8 * ratio);
            Assert.Equal(exact.Ceiling(), bytes);
        });
}
