using PostPipeline.Cli.Frame;
using Xunit;

namespace PostPipeline.Services.Tests.CommandLine;

/// <summary>What the footage verbs refuse is said in the words of whoever typed it (common practice, no source).</summary>
public sealed class FootageRefusalTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("postpipeline-footage").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    // A service names the field of its message; the user knows options. One row for every verb that fills a message from options.
    [Theory]
    [InlineData("--coding = raw:99: raw.bit_depth is 99; allowed is 1 to 32", "footage", "rate", "--coding", "raw:12", "--coding", "raw:99", "--raster", "1920x1080", "--sensor-rate", "24")]
    [InlineData("--audio = -3: channels is -3; allowed is 0 to 64", "footage", "rate", "--coding", "raw:12", "--raster", "1920x1080", "--sensor-rate", "24", "--audio", "-3")]
    [InlineData("--raster = 70000x1080: allowed is width x height in pixels, each 1 to 65535, such as 4096x2160", "footage", "rate", "--coding", "raw:12", "--raster", "70000x1080", "--sensor-rate", "24")]
    [InlineData("--reserve = 2: allowed is 0 to 999/1000", "footage", "record-times", "--coding", "raw:12", "--raster", "1920x1080", "--sensor-rate", "24", "--card", "512 GB", "--reserve", "2")]
    [InlineData("frames = -5: allowed is 1 to 1000000000", "footage", "takes", "100", "-5", "--frame-bytes", "100")]
    [InlineData("--days = 0: allowed is 1 to 366", "footage", "volume", "--days", "0", "--cameras", "2", "--hours", "3", "--finished", "100 min", "--ratio", "20", "--rate", "100 MB/s")]
    [InlineData("--trigger = 5: allowed is 0 to 1", "burst", "--coding", "raw:12", "--raster", "1920x1080", "--sensor-rate", "24", "--card", "512 GB", "--write", "50 MB/s", "--buffer", "96 GB", "--trigger", "5")]
    [InlineData("--duty = 4: allowed is a finite number from 1E-09 to 1", "offload", "cards", "--card-lasts", "70 min", "--at-station", "60 min", "--duty", "4")]
    [InlineData("--loss = 7: allowed is a finite number from 0 to 1", "offload", "send", "--size", "1 TB", "--line", "1 Gb/s", "--loss", "7")]
    [InlineData("--read-back = 77: allowed is 5 to 10", "offload", "tapes", "--size", "70 TB", "--generation", "9", "--read-back", "77")]
    [InlineData("--drives = 0: allowed is 1 to 100000", "storage", "disks", "--drives", "0", "--drive", "20 TB")]
    [InlineData("--layers = -1: allowed is 1 to 64", "storage", "seat", "--rate", "24", "--layers", "-1")]
    [InlineData("--line = 0 Gb/s: is 0; allowed is 1 to 1000000000000000", "storage", "streams", "--stream", "100 MB/s", "--line", "10 Gb/s", "--line", "0 Gb/s")]
    [InlineData("--watts = -5: allowed is a finite number from 0 to 1000000000", "storage", "power", "--watts", "-5", "--volts", "230")]
    public async Task Refused_ValueOfAnOption_IsNamedByTheOption(string problem, params string[] arguments)
    {
        (int exitCode, string output, string error) = await Typed.RunAsync(arguments);
        Assert.Equal((ExitCode.BadInput, string.Empty), (exitCode, output));
        Assert.Equal(problem, error.Trim());
    }

    [Theory]
    [InlineData("2: coding = nosuch: catalogue_name 'nosuch' is not in the catalogue", "A,nosuch,1920x1080,24,1:00", "footage", "modes", "FILE")]
    [InlineData("2: raster = 1920x0: allowed is width x height", "A,raw:12,1920x0,24,1:00", "footage", "modes", "FILE")]
    [InlineData("2: end = 08:00: allowed is 09:00 or later", "A,09:00,08:00,100 GB", "offload", "day", "FILE", "--card", "512 GB", "--wrap", "18 h", "--reader", "800 MB/s", "--to", "450 MB/s")]
    [InlineData("2: complete = 3: allowed is 5 or later", "A,online,100 GB,5,3", "storage", "plan", "FILE")]
    [InlineData("2: tier = online: is 'online'; listed are near", "A,online,100 GB,5,6", "storage", "plan", "FILE", "--tier", "near: 10 TB usable")]
    public async Task Refused_RowOfAFile_IsNamedByFileLineAndColumn(string problem, string row, params string[] arguments)
    {
        string header = arguments[1] switch { "modes" => "camera,coding,raster,sensor_rate,recorded", "day" => "camera,start,end,bytes", _ => "name,tier,bytes,from,complete" };
        string file = Path.Combine(folder, "rows.csv");
        await File.WriteAllLinesAsync(file, [header, row]);
        (int exitCode, string output, string error) = await Typed.RunAsync([.. arguments.Select(a => a == "FILE" ? file : a)]);
        Assert.Equal((ExitCode.BadInput, string.Empty), (exitCode, output));
        Assert.StartsWith($"{file}:{problem}", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Refused_SeveralFaults_AreAllShown()
    {
        string file = Path.Combine(folder, "rows.csv");
        await File.WriteAllLinesAsync(file, ["name,tier,bytes,from,complete", "A,online,100 GB,5,6", "B,far,100 GB,5,6"]);
        (int exitCode, _, string error) = await Typed.RunAsync("storage", "plan", file, "--tier", "near: 10 TB usable, 3 free");
        Assert.Equal(ExitCode.BadInput, exitCode);
        Assert.Contains("--tier = near: 10 TB usable, 3 free: ", error, StringComparison.Ordinal);
        Assert.Contains($"{file}:2: tier = online: ", error, StringComparison.Ordinal);
        Assert.Contains($"{file}:3: tier = far: ", error, StringComparison.Ordinal);
    }
}
