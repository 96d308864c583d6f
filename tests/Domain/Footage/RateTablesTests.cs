using System.Globalization;
using PostPipeline.Footage.Codings;
using PostPipeline.Footage.Links;
using PostPipeline.Quantities;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Domain.Tests.Footage;

// Published values: every row of the tables under tests/Tables/rates that has a value. Each row names its source in the table.
public class RateTablesTests
{
    private static readonly Dictionary<string, (string Id, long? Header)> Measured = new()
    {
        ["raw 8-bit 4:2:0 planar"] = ("uncompressed-420-8", null),
        ["raw 10-bit 4:2:2 planar in 16-bit words"] = ("uncompressed-422-10-in-16", null),
        ["raw 12-bit RGB planar in 16-bit words"] = ("uncompressed-444-12-in-16", null),
        ["raw 16-bit RGB packed"] = ("uncompressed-444-16", null),
        ["raw 16-bit RGBA packed"] = ("uncompressed-444-16-alpha", null),
        ["packed 4:2:2 10-bit, 48-pixel groups of 128 B"] = ("uncompressed-422-10-groups-128", null),
        ["ST 268 image file 8-bit RGB"] = ("st268-444-8", 1664),
        ["ST 268 image file 10-bit RGB, 32-bit filled"] = ("st268-444-10", 1664),
        ["ST 268 image file 12-bit RGB, 16-bit words"] = ("st268-444-12", 1664),
        ["ST 268 image file 16-bit RGB"] = ("st268-444-16", 1664),
        ["OpenEXR half RGB none"] = ("openexr-half-rgb", 392),
        ["OpenEXR half RGB zip16"] = ("openexr-half-rgb-zip16", 392),
        ["OpenEXR half RGB zip1"] = ("openexr-half-rgb-zip1", 392),
        ["OpenEXR half RGB rle"] = ("openexr-half-rgb-rle", 392),
        ["OpenEXR float RGB none"] = ("openexr-float-rgb", 392),
        ["OpenEXR float RGB zip16"] = ("openexr-float-rgb-zip16", 392),
        ["OpenEXR float RGB zip1"] = ("openexr-float-rgb-zip1", 392),
        ["OpenEXR float RGB rle"] = ("openexr-float-rgb-rle", 392),
        ["RDD 36 4:2:2 profile index 0 (0=lowest,3=high)"] = ("rdd36-0", null),
        ["RDD 36 4:2:2 profile index 1 (0=lowest,3=high)"] = ("rdd36-1", null),
        ["RDD 36 4:2:2 profile index 2 (0=lowest,3=high)"] = ("rdd36-2", null),
        ["RDD 36 4:2:2 profile index 3 (0=lowest,3=high)"] = ("rdd36-3", null),
        ["RDD 36 4:4:4 profile index 4"] = ("rdd36-4", null),
        ["FFV1 v3 10-bit 4:2:2"] = ("ffv1-422-10", null),
        ["FFV1 v3 16-bit RGB"] = ("ffv1-444-16", null),
        ["H.264 intra QP 20 4:2:2 10-bit"] = ("h264-intra-422-10-qp20", null),
        ["JPEG 2000 lossless 12-bit RGB (openjpeg)"] = ("jpeg2000-lossless-444-12", null),
        ["H.264 proxy 2 Mbit/s target 1280x720"] = ("proxy-h264-2", null),
    };

    public static TheoryData<string, int, int, string, string, string, string, string> MeasuredRows => Rows("rates/measured_frame_sizes.csv", r =>
        (r["codec"], Int(r["width"]), Int(r["height"]), r["source"], r["min_bytes"], r["mean_bytes"], r["max_bytes"], r["formula_bytes"]));

    [Theory]
    [MemberData(nameof(MeasuredRows))]
    public void BytesPerFrame_MeasuredRow_IsEqualWhereFixedAndInsideTheRangeWhereNot(
        string codec, int width, int height, string picture, string least, string mean, string most, string formula)
    {
        (string id, long? header) = Measured[codec];
        CodingDefinition definition = CodingCatalogue.Standard.Find(id).Definition;
        Coding coding = Coding.From(header is null ? definition : definition with { HeaderBytes = header });
        FrameBytes bytes = coding.BytesPerFrame(Raster.From(width, height), FrameRate.Fps24);
        if (formula.Length > 0)
        {
            Assert.True(bytes.IsConstant, picture);
            Assert.Equal(long.Parse(formula, CultureInfo.InvariantCulture), bytes.Average);
        }
        else if (id == "proxy-h264-2")
        {
            // The encoder's rate control ends near the bit rate that was set (6 % and 8 % above on 96 frames); ours is that bit rate.
            Assert.Equal(10_417, bytes.Average);
            Assert.InRange(double.Parse(mean, CultureInfo.InvariantCulture) / bytes.Average, 0.9, 1.1);
        }
        else
        {
            Assert.InRange(long.Parse(least, CultureInfo.InvariantCulture), bytes.Low, bytes.Peak);
            Assert.InRange(long.Parse(most, CultureInfo.InvariantCulture), bytes.Low, bytes.Peak);
        }
    }

    public static TheoryData<int, int, int, string> Vc3Rows => Rows("rates/vc3_frame_sizes.csv", r => (Int(r["cid"]), Int(r["width"]), Int(r["height"]), r["table_bytes_per_frame"]));

    // SMPTE ST 2019-1 compression IDs.
    [Theory]
    [MemberData(nameof(Vc3Rows))]
    public void BytesPerFrame_CompressionId_EqualsTheTable(int id, int width, int height, string bytes) =>
        Assert.Equal(
            FrameBytes.Constant(long.Parse(bytes, CultureInfo.InvariantCulture)),
            CodingCatalogue.Standard.Find($"vc3-{id}").BytesPerFrame(Raster.From(width, height), FrameRate.Fps24));

    public static TheoryData<string, string, string> JpegRows => Rows("rates/jpeg2000_caps.csv", r => (r["table"], r["level"], r["value"]));

    [Theory]
    [MemberData(nameof(JpegRows))]
    public void Jpeg2000_Row_IsEqualOrBelowOurLimit(string table, string level, string value)
    {
        Raster cinema = Raster.From(2048, 1080);
        long number = long.Parse(value, CultureInfo.InvariantCulture);
        long Most(string id, FrameRate rate) => CodingCatalogue.Standard.Find(id).BytesPerFrame(cinema, rate).Peak;
        FrameRate fps48 = FrameRate.From(48);
        switch (table, level)
        {
            case ("DCI", "DCI max codestream 24 fps"):
                Assert.Equal(number, Most("jpeg2000-cinema", FrameRate.Fps24));
                break;
            case ("DCI", "DCI max codestream 48 fps"):
                Assert.Equal(number, Most("jpeg2000-cinema", fps48));
                break;
            case ("DCI", "DCI max per colour component 24 fps"):
                Assert.Equal(number, Most("jpeg2000-cinema-component", FrameRate.Fps24));
                break;
            case ("DCI", "DCI max per colour component 48 fps"):
                Assert.Equal(number, Most("jpeg2000-cinema-component", fps48));
                break;
            case ("DCI", "DCI HFR recommended practice max compressed bit rate"):
                Assert.Equal(number * 1_000_000, CodingCatalogue.Standard.Find("jpeg2000-cinema-high-rate").Definition.BitsPerSecond);
                break;
            case ("DCI", "DCSS max compressed bit rate"):
                Assert.Equal(number * 1_000_000, CodingCatalogue.Standard.Find("jpeg2000-cinema").Definition.BitsPerSecond);
                break;
            case ("IMF sub level max compressed bit rate", _):
                Assert.Equal(number * 1_000_000, CodingCatalogue.Standard.Find($"jpeg2000-sublevel-{level}").Definition.BitsPerSecond);
                break;
            case ("IMF main level (ISO/IEC 15444-1 Amd 8) max component sampling rate", _):
                Assert.True(LevelTable.TryFind("jpeg2000", out LevelTable? levels));
                Assert.Equal(number * 1_000_000, levels.Find(level)!.MaximumRate);
                break;
            default:
                // Files that an encoder made under the cinema profile: "must be <= cap".
                Assert.StartsWith("measured here", table, StringComparison.Ordinal);
                Assert.True(number <= Most("jpeg2000-cinema", level.EndsWith("48", StringComparison.Ordinal) ? fps48 : FrameRate.Fps24), level);
                break;
        }
    }

    public static TheoryData<string, string, string, string, string, string, string> H264Rows => Rows("rates/h264_levels.csv", r =>
        (r["level"], r["MaxMBPS"], r["MaxFS_MB"], r["MaxBR_kbps_baseline_main_unit1000"], r["MaxBR_High_kbps(x1.25)"], r["MaxBR_High10_kbps(x3)"], r["MaxBR_High422_High444_kbps(x4)"]));

    // ITU-T H.264 Annex A.
    [Theory]
    [MemberData(nameof(H264Rows))]
    public void Level_H264Row_EqualsTheTable(string name, string blocksPerSecond, string blocks, string main, string high, string high10, string high422)
    {
        Assert.True(LevelTable.TryFind("h264", out LevelTable? table));
        Level level = table.Find(name)!;
        Assert.Equal((Whole(blocks), Whole(blocksPerSecond)), (level.MaximumSize, level.MaximumRate));
        Assert.Equal(
            [Kilo(main), Kilo(high), Kilo(high10), Kilo(high422), Kilo(high422)],
            new[] { "main", "high", "high-10", "high-4:2:2", "high-4:4:4" }.Select(level.BitsPerSecond));
    }

    public static TheoryData<string, string, string, string, string> H265Rows => Rows("rates/h265_levels.csv", r =>
        (r["level"], r["MaxLumaPs"], r["MaxLumaSr"], r["MaxBR_Main_kbps"], r["MaxBR_High_kbps"]));

    // ITU-T H.265 Annex A. The last row of the table is a key of its transcription ("Main") and no level.
    [Theory]
    [MemberData(nameof(H265Rows))]
    public void Level_H265Row_EqualsTheTable(string name, string samples, string samplesPerSecond, string main, string high)
    {
        Assert.True(LevelTable.TryFind("h265", out LevelTable? table));
        Level? level = table.Find(name);
        if (name == "Main")
        {
            Assert.Null(level);
            return;
        }

        Assert.Equal((Whole(samples), Whole(samplesPerSecond)), (level!.MaximumSize, level.MaximumRate));
        Assert.Equal((Kilo(main), Kilo(high)), (level.BitsPerSecond("main-tier"), level.BitsPerSecond("high-tier")));
    }

    public static TheoryData<string, string, string> SerialRows => Rows("rates/sdi_rates.csv", r => (r["standard"], r["nominal_Gbps"], r["active_payload_example_bps"]));

    // SMPTE ST 292-1, ST 424, ST 2081, ST 2082.
    [Theory]
    [MemberData(nameof(SerialRows))]
    public void SerialInterface_Row_FollowsFromItsSamples(string standard, string gigabits, string active)
    {
        (SerialInterface link, Raster raster, int rate) = standard switch
        {
            "SMPTE ST 292-1" => (SerialInterface.St292, Raster.From(1920, 1080), 30),
            "SMPTE ST 424" => (SerialInterface.St424, Raster.From(1920, 1080), 60),
            "SMPTE ST 2081" => (SerialInterface.St2081, Raster.From(3840, 2160), 30),
            _ => (SerialInterface.St2082, Raster.From(3840, 2160), 60),
        };
        Assert.True(Rational.TryParse(gigabits, out Rational nominal));
        Assert.Equal(nominal * 1_000_000_000, link.Wire.BitsPerSecond);
        Assert.Equal(Whole(active), link.Active(raster, FrameRate.From(rate)).BitsPerSecond);
        Assert.True(link.Fits(raster, FrameRate.From(rate)));
    }

    [Fact]
    public void SerialInterface_Over1001_IsTheRateDividedBy1001Over1000() =>
        Assert.Equal(SerialInterface.St292.Wire.BitsPerSecond * new Rational(1000, 1001), (SerialInterface.St292 with { Rate = FrameRate.Fps30000Over1001 }).Wire.BitsPerSecond);

    public static TheoryData<string, string, string, string> HeaderRows => Rows("rates/file_header_differences.csv", r => (r["format"], r["raster"], r["file_bytes"], r["overhead_bytes"]));

    // The same picture has different headers by writer, so the header is a parameter.
    [Theory]
    [MemberData(nameof(HeaderRows))]
    public void HeaderBytes_ByWriter_GivesTheFileSize(string format, string raster, string file, string overhead)
    {
        string id = format switch
        {
            "ST 268 10-bit RGB" => "st268-444-10",
            "ST 268 16-bit RGB" => "st268-444-16",
            "OpenEXR half RGB uncompressed" => "openexr-half-rgb",
            _ => "openexr-float-rgb",
        };
        Assert.True(Raster.TryParse(raster, out Raster size));
        long lineTable = id.StartsWith("openexr", StringComparison.Ordinal) ? 16L * size.Height : 0;
        Coding coding = Coding.From(CodingCatalogue.Standard.Find(id).Definition with { HeaderBytes = Whole(overhead) - lineTable });
        Assert.Equal(Whole(file), coding.BytesPerFrame(size, FrameRate.Fps24).Average);
    }

    private static long Whole(string text) => long.Parse(text, CultureInfo.InvariantCulture);

    private static int Int(string text) => int.Parse(text, CultureInfo.InvariantCulture);

    private static long Kilo(string text) => (long)(decimal.Parse(text, CultureInfo.InvariantCulture) * 1000);

    private static TheoryData<T1, T2, T3> Rows<T1, T2, T3>(string table, Func<CsvTable.Row, (T1, T2, T3)> row)
    {
        TheoryData<T1, T2, T3> data = [];
        foreach ((T1 a, T2 b, T3 c) in CsvTable.Read(Outside.Table(table)).Rows.Select(row))
        {
            data.Add(a, b, c);
        }

        return data;
    }

    private static TheoryData<T1, T2, T3, T4> Rows<T1, T2, T3, T4>(string table, Func<CsvTable.Row, (T1, T2, T3, T4)> row)
    {
        TheoryData<T1, T2, T3, T4> data = [];
        foreach ((T1 a, T2 b, T3 c, T4 d) in CsvTable.Read(Outside.Table(table)).Rows.Select(row))
        {
            data.Add(a, b, c, d);
        }

        return data;
    }

    private static TheoryData<T1, T2, T3, T4, T5> Rows<T1, T2, T3, T4, T5>(string table, Func<CsvTable.Row, (T1, T2, T3, T4, T5)> row)
    {
        TheoryData<T1, T2, T3, T4, T5> data = [];
        foreach ((T1 a, T2 b, T3 c, T4 d, T5 e) in CsvTable.Read(Outside.Table(table)).Rows.Select(row))
        {
            data.Add(a, b, c, d, e);
        }

        return data;
    }

    private static TheoryData<T1, T2, T3, T4, T5, T6, T7> Rows<T1, T2, T3, T4, T5, T6, T7>(string table, Func<CsvTable.Row, (T1, T2, T3, T4, T5, T6, T7)> row)
    {
        TheoryData<T1, T2, T3, T4, T5, T6, T7> data = [];
        foreach ((T1 a, T2 b, T3 c, T4 d, T5 e, T6 f, T7 g) in CsvTable.Read(Outside.Table(table)).Rows.Select(row))
        {
            data.Add(a, b, c, d, e, f, g);
        }

        return data;
    }

    private static TheoryData<T1, T2, T3, T4, T5, T6, T7, T8> Rows<T1, T2, T3, T4, T5, T6, T7, T8>(string table, Func<CsvTable.Row, (T1, T2, T3, T4, T5, T6, T7, T8)> row)
    {
        TheoryData<T1, T2, T3, T4, T5, T6, T7, T8> data = [];
        foreach ((T1 a, T2 b, T3 c, T4 d, T5 e, T6 f, T7 g, T8 h) in CsvTable.Read(Outside.Table(table)).Rows.Select(row))
        {
            data.Add(a, b, c, d, e, f, g, h);
        }

        return data;
    }
}
