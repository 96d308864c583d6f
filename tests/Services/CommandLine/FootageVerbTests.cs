using System.Text.Json;
using PostPipeline.Cli.Frame;
using Xunit;

namespace PostPipeline.Services.Tests.CommandLine;

/// <summary>The footage verbs on the worked examples of the domain's tests (common practice, no source).</summary>
public sealed class FootageVerbTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("postpipeline-footage").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public async Task Rate_ReferenceClip_PrintsExactBytesAndItsBase()
    {
        (int exitCode, string output, string error) = await Typed.RunAsync("footage", "rate", "--coding", "raw:12:3", "--coding", "rdd36-3", "--raster", "4096x2160", "--sensor-rate", "24", "--explain");
        Assert.Equal((ExitCode.Done, string.Empty), (exitCode, error));
        Assert.Contains("4423680", output, StringComparison.Ordinal);
        Assert.Contains("3:1 of 12-bit photosites", output, StringComparison.Ordinal);
        Assert.Contains("W = 4096, H = 2160", output, StringComparison.Ordinal);
    }

    // The whole tree of clip R with two tracks of sound, line by line: 4,423,680 × 24 + 2 × 48,000 × 24 ÷ 8.
    [Fact]
    public async Task Rate_Why_PrintsFormulaNumbersAndSourceOfEveryStep()
    {
        (int exitCode, string output, string error) = await Typed.RunAsync("footage", "rate", "--coding", "raw-12-3to1", "--raster", "4096x2160", "--sensor-rate", "24", "--audio", "2", "--why");
        Assert.Equal((ExitCode.Done, string.Empty), (exitCode, error));
        Assert.Equal(
            [
                "data rate: 106456320 B/s = pictures + sound = 106168320 + 288000",
                "pictures: 106168320 B/s = bytes a frame × frames recorded a second = 4423680 × 24",
                "bytes a frame of raw-12-3to1: 4423680 B = ⌈W × H × bits ÷ (8 × ratio)⌉ + header = W = 4096, H = 2160, bits = 12, ratio = 3, bits a photosite = 4, header = 0",
                "W: 4096 px",
                "H: 2160 px",
                "bits: 12 bit",
                "ratio: 3 to 1 against 12-bit photosites",
                "bits a photosite: 4 bit",
                "header: 0 B",
                "frames recorded a second: 24 1/s",
                "sound: 288000 B/s = channels × samples a second × bits ÷ 8 = 2 × 48000 × 24 ÷ 8",
            ],
            Tree(output, "data rate:").Select(l => l.Split(" [")[0]));
    }

    // Every verb that answers with numbers takes --why, and its tree has a formula, a source and the limit.
    [Theory]
    [InlineData("sustained: fail = needed ≤ write ceiling", "(set by: write ceiling; then capacity of the medium)", "burst", "--coding", "raw:12:3", "--raster", "4096x2160", "--sensor-rate", "96", "--card", "512 GB", "--write", "450 MB/s")]
    [InlineData("cartridges: 10 = cartridges a set × sets = 5 × 2", "(margin: cartridge fill)", "offload", "tapes", "--size", "71.663616 TB", "--other", "0.15", "--generation", "9", "--rate", "300 MB/s")]
    [InlineData("hours by wire: ", "(set by: loss and round trip; then line)", "offload", "send", "--size", "1 TB", "--line", "1 Gb/s", "--round-trip", "100 ms", "--loss", "0.0001")]
    [InlineData("cards a camera: 3 = 1 + ⌈loop ÷ clock time of a card⌉ + spares", "(margin: spare cards)", "offload", "cards", "--cameras", "3", "--card-lasts", "77.2 min", "--duty", "0.25", "--at-station", "68.3 min", "--otherwise", "40 min")]
    [InlineData("open facts of A001: 9 = absent + unknown", "(set by: every file of the manifest there, none of zero length; then copies equal)", "offload", "release", "A001", "--present", "1")]
    [InlineData("open facts of mezzanine: 7 = absent + unknown", "retention period over: unknown", "storage", "purge", "mezzanine")]
    [InlineData("plannable streams: 7 = ⌊rate × protocol share × headroom ÷ stream⌋", "(margin: headroom of the link or array)", "storage", "streams", "--stream", "106.16832 MB/s", "--line", "10 Gb/s")]
    [InlineData("reserve: 1.5 = measured ÷ (layers × frames a second)", "(set by: decoding as measured)", "storage", "seat", "--layers", "4", "--rate", "25", "--measured", "150")]
    [InlineData("plannable: 256000000000000 B = usable × (1 − free part)", "redundancy of the array (it is not a copy)", "storage", "disks", "--drives", "24", "--drive", "20 TB", "--spare-drives", "2")]
    [InlineData("bytes a frame of vc3-1235: 917504 B = bytes a frame from the table", "[quoted: SMPTE ST 2019-1", "footage", "codings", "vc3-1235")]
    public async Task Why_EveryVerb_PrintsItsTree(string first, string within, params string[] arguments)
    {
        (_, string output, string error) = await Typed.RunAsync([.. arguments, "--why"]);
        Assert.Equal(string.Empty, error);
        string[] tree = Tree(output, first.Split(": ")[0] + ":");
        Assert.StartsWith(first, tree[0], StringComparison.Ordinal);
        Assert.Contains(tree, l => l.Contains(within, StringComparison.Ordinal));
        Assert.True(tree.Length > 1);
    }

    [Fact]
    public async Task Rate_Json_IsTheSameTwice()
    {
        string[] arguments = ["footage", "rate", "--coding", "vc3-1235", "--raster", "1920x1080", "--sensor-rate", "24000/1001", "--json", "--explain"];
        JsonElement first = Result((await Typed.RunAsync(arguments)).Output);
        Assert.Equal(917_504, first[0].GetProperty("bytes_per_frame").GetInt64());
        Assert.Equal("3145728000/143", first[0].GetProperty("picture_bytes_per_second").GetString());
        Assert.Equal(first.GetRawText(), Result((await Typed.RunAsync(arguments)).Output).GetRawText());
    }

    [Theory]
    [InlineData("--sensor-rate", "23.976", "write a whole number or an exact fraction")]
    [InlineData("--raster", "4096", "allowed is width x height")]
    [InlineData("--coding", "raw-13", "near it are")]
    [InlineData("--coding", "raw:twelve", "whole number of bits")]
    public async Task Rate_WrongValue_IsRefusedWithWhatIsAllowed(string option, string value, string text)
    {
        Dictionary<string, string> options = new() { ["--coding"] = "raw-12", ["--raster"] = "4096x2160", ["--sensor-rate"] = "24" };
        options[option] = value;
        (int exitCode, string output, string error) = await Typed.RunAsync(["footage", "rate", .. options.SelectMany(o => new[] { o.Key, o.Value })]);
        Assert.Equal((ExitCode.BadInput, string.Empty), (exitCode, output));
        Assert.Contains(text, error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task OwnCodings_File_IsReadByTheClient()
    {
        string path = Path.Combine(folder, "own.csv");
        await File.WriteAllTextAsync(path, "id,kind,source,bits_per_pixel\nhouse,bits-per-pixel,measured by us,3.5\n");
        (int exitCode, string output, _) = await Typed.RunAsync("footage", "codings", "house", "--own-codings", path);
        Assert.Equal(ExitCode.Done, exitCode);
        Assert.Contains("measured by us", output, StringComparison.Ordinal);
        Assert.Equal(ExitCode.FileFailed, (await Typed.RunAsync("footage", "codings", "--own-codings", Path.Combine(folder, "none.csv"))).ExitCode);
        (_, string rate, _) = await Typed.RunAsync("footage", "rate", "--own-codings", path, "--coding", "house", "--raster", "1920x1080", "--sensor-rate", "24");
        Assert.Contains("907200", rate, StringComparison.Ordinal);
    }

    [Fact]
    public async Task OwnCodings_WrongFile_NamesEveryFaultWithLineColumnAndWhatIsAllowed()
    {
        string path = Path.Combine(folder, "own.csv");
        await File.WriteAllTextAsync(path, "id,kind,source,bit_depth\nhouse,photosites,ours,99\nother,none,ours,10\n");
        (int exitCode, string output, string error) = await Typed.RunAsync("footage", "rate", "--own-codings", path, "--coding", "house", "--raster", "1920x1080", "--sensor-rate", "24");
        Assert.Equal((ExitCode.BadInput, string.Empty), (exitCode, output));
        Assert.Contains($"{path}:2:23: bit_depth: is 99; allowed is 1 to 32", error, StringComparison.Ordinal);
        Assert.Contains($"{path}:3:7: kind: is 'none'; allowed are packed, photosites", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task RecordTimes_ReferenceClip_HasItsMinutes()
    {
        (_, string output, _) = await Typed.RunAsync("footage", "record-times", "--coding", "raw:12:3", "--raster", "4096x2160", "--sensor-rate", "96", "--project-rate", "24", "--card", "512 GB");
        Assert.Contains("20.09 min (80.38 on screen)", output, StringComparison.Ordinal);

        // IEC 80000-13: 1.024³ − 1 = 7.37 %, 1.024⁴ − 1 = 9.95 %.
        Assert.Contains("512 GB = 476.84 GiB: one GiB is 7.37 % more than one GB", output, StringComparison.Ordinal);
        (_, string why, _) = await Typed.RunAsync("footage", "record-times", "--coding", "raw:12:3", "--raster", "4096x2160", "--sensor-rate", "24", "--card", "480 GiB", "--reserve", "0.02", "--why");
        Assert.Contains("515.4 GB = 480 GiB", why, StringComparison.Ordinal);
        Assert.StartsWith("record time: 4757.428 s = capacity × (1 − reserve) ÷ average rate = 515396075520 × (1 − 1/50) ÷ 106168320 (margin: reserve on the medium)", Tree(why, "record time:")[0], StringComparison.Ordinal);
    }

    [Fact]
    public async Task Modes_MixedDay_AddsUp()
    {
        string path = Path.Combine(folder, "modes.csv");
        await File.WriteAllTextAsync(path, "camera,coding,raster,sensor_rate,recorded,project_rate\nA,raw:12:3,4096x2160,24,1:00:00,\nA,raw:12:3,4096x2160,96,0:01:00,24\n");
        (int exitCode, string output, string error) = await Typed.RunAsync("footage", "modes", path, "--json");
        Assert.Equal((ExitCode.Done, string.Empty), (exitCode, error));
        Assert.Equal((106_168_320L * 3600) + (424_673_280L * 60), Result(output).GetProperty("bytes").GetInt64());
    }

    [Fact]
    public async Task VolumeAndTakes_ReferencePlan_AreFlaggedAndCut()
    {
        (_, string volume, _) = await Typed.RunAsync("footage", "volume", "--days", "25", "--cameras", "3", "--hours", "2.5", "--finished", "110 min", "--ratio", "25", "--rate", "106.16832 MB/s");
        Assert.Contains("71.7 TB", volume, StringComparison.Ordinal);
        Assert.Contains("102:1 implied", volume, StringComparison.Ordinal);
        (_, string takes, _) = await Typed.RunAsync("footage", "takes", "17280", "--frame-bytes", "4423680", "--limit", "FAT32");
        Assert.Contains("18 files", takes, StringComparison.Ordinal);
        Assert.Contains("790", takes, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Burst_OverCeiling_SaysNoAndWhatWould()
    {
        (int exitCode, string output, _) = await Typed.RunAsync("burst", "--coding", "raw:12:3", "--raster", "4096x2160", "--sensor-rate", "96", "--project-rate", "24", "--card", "512 GB", "--write", "450 MB/s", "--explain");
        Assert.Equal(ExitCode.No, exitCode);
        Assert.Contains("3.34:1 of 12-bit photosites", output, StringComparison.Ordinal);
        Assert.Contains("trusted part of the media rating", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Burst_Buffer_HasItsWindow()
    {
        (_, string output, _) = await Typed.RunAsync(
            "burst", "--coding", "raw:12", "--raster", "4096x2160", "--sensor-rate", "480", "--project-rate", "24", "--card", "2 TB", "--write", "900 MB/s", "--trust", "1",
            "--buffer", "96 GB", "--drains", "from-trigger", "--trigger", "0.5");
        Assert.Contains("16.22 s, 7783 frames", output, StringComparison.Ordinal);
        (_, string again, _) = await Typed.RunAsync(
            "burst", "--coding", "raw:12", "--raster", "4096x2160", "--sensor-rate", "480", "--card", "2 TB", "--write", "500 MB/s", "--trust", "1", "--ready-again", "95 s", "--reset", "5 s");
        Assert.Contains("45 GB, 3391 frames", again, StringComparison.Ordinal);
    }

    [Fact]
    public async Task OffloadDay_ThreeCardsTwoStations_EndsAfterTwoWholeCards()
    {
        string path = Path.Combine(folder, "takes.csv");
        await File.WriteAllTextAsync(path, "# last cards\ncamera,start,end,bytes\nA,17:00,18:00,512 GB\nB,17:00,18:00,512 GB\nC,17:00,18:00,512 GB\n");
        (int exitCode, string output, string error) = await Typed.RunAsync(
            "offload", "day", path, "--card", "512 GB", "--wrap", "18 h", "--stations", "2", "--reader", "800 MB/s", "--to", "1200 MB/s", "--to", "450 MB/s", "--to", "250 MB/s", "--courier", "21 h", "--json");
        Assert.Equal((ExitCode.No, string.Empty), (exitCode, error));
        JsonElement day = Result(output)[0];
        Assert.Equal(8192, day.GetProperty("after_wrap_seconds").GetDouble());
        Assert.True(day.GetProperty("never_catches_up").GetBoolean());
        Assert.Equal((3 * 3600) - 8192, day.GetProperty("before_courier_seconds").GetDouble());
        (_, string text, _) = await Typed.RunAsync("offload", "day", path, "--card", "512 GB", "--wrap", "18 h", "--stations", "2", "--reader", "800 MB/s", "--to", "250 MB/s, 100 GB at 450 MB/s, reads 400 MB/s");
        Assert.Contains("No card is said to be safe to clear", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task OffloadDay_WrongFile_NamesLineColumnAndWhatIsAllowed()
    {
        string path = Path.Combine(folder, "takes.csv");
        await File.WriteAllTextAsync(path, "camera,start,end,bytes\nA,noon,18:00,512 GB\nB,17:00,18:00,512\nC,17:00,18:00,lots\n");
        (int exitCode, _, string error) = await Typed.RunAsync("offload", "day", path, "--card", "512 GB", "--wrap", "18 h", "--reader", "800 MB/s", "--to", "250 MB/s");
        Assert.Equal(ExitCode.BadInput, exitCode);
        Assert.Contains($"{path}:2: start = noon: allowed is a time of day", error, StringComparison.Ordinal);
        Assert.Contains($"{path}:4: bytes = lots:", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task OffloadCardsTapesSend_WorkedExamples()
    {
        (int refused, string never, _) = await Typed.RunAsync("offload", "cards", "--cameras", "3", "--card-lasts", "77.2 min", "--at-station", "68.3 min", "--otherwise", "40 min");
        Assert.Equal(ExitCode.No, refused);
        Assert.Contains("265 %: never catches up", never, StringComparison.Ordinal);
        (_, string cards, _) = await Typed.RunAsync("offload", "cards", "--cameras", "3", "--card-lasts", "77.2 min", "--duty", "0.25", "--at-station", "68.3 min", "--otherwise", "40 min");
        Assert.Contains("3 cards a camera", cards, StringComparison.Ordinal);
        (_, string tapes, _) = await Typed.RunAsync("offload", "tapes", "--size", "71.663616 TB", "--other", "0.15", "--generation", "9", "--rate", "300 MB/s");
        Assert.Contains("4.98 → 5", tapes, StringComparison.Ordinal);
        (_, string send, _) = await Typed.RunAsync("offload", "send", "--size", "1 TB", "--line", "1 Gb/s", "--round-trip", "100 ms", "--loss", "0.0001", "--drive", "500 MB/s", "--way", "3 h");
        Assert.Contains("loss and round trip", send, StringComparison.Ordinal);
        Assert.Contains("5.22 h", send, StringComparison.Ordinal);
    }

    // FIPS 180-4's vector for "abc".
    [Fact]
    public async Task Digest_File_PrintsWhatManifestsHold()
    {
        string path = Path.Combine(folder, "abc.bin");
        await File.WriteAllTextAsync(path, "abc");
        (int exitCode, string output, string error) = await Typed.RunAsync("offload", "digest", path, "--with", "sha1");
        Assert.Equal((ExitCode.Done, "a9993e364706816aba3e25717850c26c9cd0d89d  abc.bin\n"), (exitCode, output));
        Assert.Contains("MB/s", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Release_OpenFacts_SayDoNotClear()
    {
        (int exitCode, string output, _) = await Typed.RunAsync("offload", "release", "A001", "--present", "1", "2", "3", "--absent", "5");
        Assert.Equal(ExitCode.No, exitCode);
        Assert.Contains("Do not clear: 1 absent, 6 unknown of 10 facts.", output, StringComparison.Ordinal);
        Assert.Equal(ExitCode.BadInput, (await Typed.RunAsync("storage", "purge", "mezzanine", "--present", "8")).ExitCode);
    }

    [Fact]
    public async Task StoragePlan_File_ShowsEveryTierAndWhatToBuy()
    {
        string path = Path.Combine(folder, "generations.csv");
        await File.WriteAllTextAsync(path, "name,tier,bytes,from,complete,purge,trigger\noriginals,nearline,71.663616 TB,0,25,,\nmezzanine,online,58.99 TB,0,26,200,delivery accepted\nrenders,online,2 TB,100,110,,\n");
        (int exitCode, string output, _) = await Typed.RunAsync("storage", "plan", path, "--tier", "online: 70 TB usable, 0.2 free, 1.25 redundancy", "--tier", "nearline", "--explain");
        Assert.Equal(ExitCode.No, exitCode);
        Assert.Contains("71.7 TB", output, StringComparison.Ordinal);
        Assert.Contains("free space", output, StringComparison.Ordinal);
        Assert.Contains("delivery accepted", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task StorageDisksStreamsSeatPower_WorkedExamples()
    {
        string disks = (await Typed.RunAsync("storage", "disks", "--drives", "24", "--drive", "20 TB", "--spare-drives", "2")).Output;
        Assert.Contains("256 TB = 232.83 TiB: one TiB is 9.95 % more than one TB", disks, StringComparison.Ordinal);
        Assert.Contains("tight", (await Typed.RunAsync("storage", "streams", "--stream", "87.39 MB/s", "--line", "1 Gb/s")).Output, StringComparison.Ordinal);
        Assert.StartsWith("comfortable", (await Typed.RunAsync("storage", "seat", "--layers", "4", "--rate", "25", "--measured", "150")).Output, StringComparison.Ordinal);
        string power = (await Typed.RunAsync("storage", "power", "--watts", "9300", "--volts", "230")).Output;
        Assert.Contains("31732 BTU/h", power, StringComparison.Ordinal);
        Assert.Contains("electrician", power, StringComparison.Ordinal);
    }

    // The lines of the tree that starts with these words: branches taken off, wrapped lines joined, blanks evened out.
    private static string[] Tree(string output, string start)
    {
        List<string> lines = [];
        foreach (string line in output.Split('\n').SkipWhile(l => !l.StartsWith(start, StringComparison.Ordinal)))
        {
            string text = string.Join(' ', line.Split([' ', '│'], StringSplitOptions.RemoveEmptyEntries));
            if (lines.Count == 0 || text.StartsWith("├──", StringComparison.Ordinal) || text.StartsWith("└──", StringComparison.Ordinal))
            {
                lines.Add(text.TrimStart('├', '└', '─', ' '));
            }
            else if (text.Length > 0)
            {
                lines[^1] += " " + text;
            }
        }

        return [.. lines];
    }

    private static JsonElement Result(string output) => JsonDocument.Parse(output).RootElement.GetProperty("result");
}
