using System.Text.Json;
using PostPipeline.Cli.Frame;
using Xunit;

namespace PostPipeline.Services.Tests.CommandLine;

public sealed class TimecodeVerbsTests
{
    // Source: SMPTE ST 12-1, worked by hand.
    [Fact]
    public async Task Label_DropFrame_WritesLabels()
    {
        JsonElement result = await Result("label", "1799", "1800", "-1", "--rate", "30000/1001", "--drop");
        Assert.Equal(["00:00:59;29", "00:01:00;02", "23:59:59;29"], Texts(result, "label"));
    }

    [Fact]
    public async Task Frame_SuperFrames_ReadBack()
    {
        JsonElement label = await Result("label", "107", "--rate", "120000/1001", "--drop", "--super-frame", "4");
        JsonElement frame = await Result("frame", Texts(label, "label").Single()!, "--rate", "120000/1001", "--drop", "--super-frame", "4");
        Assert.Equal(107, frame[0].GetProperty("frame").GetInt64());
    }

    [Fact]
    public async Task Frame_OneWrongLabel_AnswersTheOthersAndSaysSoInTheExitCode()
    {
        (int exitCode, string output, _) = await Run("frame", "00:01:00;00", "01:00:00:00", "--rate", "30000/1001", "--drop", "--json");
        Assert.Equal(ExitCode.BadInput, exitCode);
        JsonElement rows = JsonDocument.Parse(output).RootElement.GetProperty("result");
        Assert.Contains("is a dropped label", rows[0].GetProperty("problem").GetString());
        Assert.Equal(107_892, rows[1].GetProperty("frame").GetInt64());
        Assert.Equal(1_800, (await Result("frame", "00:01:00;00", "--rate", "30000/1001", "--drop", "--snap"))[0].GetProperty("frame").GetInt64());
    }

    [Fact]
    public async Task Frame_FromAFile_ReadsEveryLine()
    {
        string path = Path.GetTempFileName();
        try
        {
            await File.WriteAllLinesAsync(path, Enumerable.Range(0, 12_000).Select(i => $"00:{i / 1500:00}:{i / 25 % 60:00}:{i % 25:00}"));
            JsonElement rows = await Result("frame", "--file", path, "--rate", "25");
            Assert.Equal(12_000, rows.GetArrayLength());
            Assert.Equal(11_999, rows[11_999].GetProperty("frame").GetInt64());
        }
        finally
        {
            File.Delete(path);
        }
    }

    // Common practice, no source: 23:58:30:00 to 00:01:00:00 at 24 is 3,600 frames.
    [Fact]
    public async Task AddAndDuration_AcrossMidnight_Wrap()
    {
        Assert.Equal("00:00:00:01", Texts(await Result("add", "23:59:59:23", "--frames", "2", "--rate", "24"), "label").Single());
        Assert.Equal("23:59:59:23", Texts(await Result("add", "00:00:00:01", "--frames", "-2", "--rate", "24"), "label").Single());
        JsonElement duration = await Result("duration", "23:58:30:00", "00:01:00:00", "--rate", "24");
        Assert.Equal((3_600, true), (duration.GetProperty("frames").GetInt64(), duration.GetProperty("crosses_midnight").GetBoolean()));
    }

    // Derived by hand: 86,400 frames at 24000/1001 last 3,603.6 s, 90,090 frames at 25.
    [Fact]
    public async Task Convert_KeepsWhatIsSaid()
    {
        Assert.Equal("01:00:03:15", Texts(await Result("convert", "01:00:00:00", "--rate", "24000/1001", "--to-rate", "25", "--keep", "time"), "label").Single());
        Assert.Equal("00:57:36:00", Texts(await Result("convert", "01:00:00:00", "--rate", "24000/1001", "--to-rate", "25", "--keep", "frames"), "label").Single());
        Assert.Equal(ExitCode.BadInput, (await Run("convert", "01:00:00:00", "--rate", "24", "--to-rate", "25")).ExitCode);
    }

    [Fact]
    public async Task Drift_24000Over1001_Loses3Point6SecondsAnHour()
    {
        JsonElement drift = await Result("drift", "--rate", "24000/1001", "--frames", "86400");
        Assert.Equal("18/5", drift.GetProperty("drift_seconds_per_label_hour").GetProperty("fraction").GetString());
        Assert.Equal(3.6, drift.GetProperty("after").GetProperty("drift_seconds").GetProperty("decimal").GetDouble());
    }

    // Common practice, no source: 30 s at 96 on base 24 overlaps a clip a minute later by 1,440 numbers.
    [Fact]
    public async Task OffSpeed_UnknownLabelling_ShowsAllBehaviours()
    {
        JsonElement clip = await Result("off-speed", "--sensor", "96", "--rate", "24", "--start", "10:00:00:00", "--seconds", "30", "--later", "10:01:00:00+1440");
        JsonElement[] behaviours = [.. clip.GetProperty("behaviours").EnumerateArray()];
        Assert.Equal(["per-frame", "follows-clock", "record-run", "none"], behaviours.Select(b => b.GetProperty("labelling").GetString()));
        Assert.Equal([1_440, 0, 0, 0], behaviours.Select(b => b.GetProperty("overlap_labels")[0].GetInt64()));
    }

    // Common practice, no source: half a frame at 24 with ±1 ppm each lasts 2.89 h.
    [Fact]
    public async Task Jam_ForPeople_RoundsTheIntervalDown()
    {
        (int exitCode, string output, _) = await Run("jam", "--ppm", "1", "--hours", "12", "--rate", "24");
        Assert.Equal(ExitCode.Done, exitCode);
        Assert.Contains("at least every 2.89 h", output);
    }

    // Source: tests/Tables/timecode/ltc_codewords.csv, words made by libltc 1.3.2.
    [Fact]
    public async Task Ltc_WordsAndLabels_GoBothWays()
    {
        Assert.Equal("0402090509050302fcbf", Texts(await Result("ltc", "23:59:59:24", "--rate", "25"), "word").Single());
        Assert.Equal("23:59:59:24", Texts(await Result("ltc", "0402090509050302fcbf", "--words", "--rate", "25"), "label").Single());
    }

    [Theory]
    [InlineData("--rate = 23.976: '23.976' is a rounded rate", "label", "5", "--rate", "23.976")]
    [InlineData("drop-frame numbering does not exist at 25", "label", "5", "--rate", "25", "--drop")]
    [InlineData("frames = x: is no frame number", "label", "x", "--rate", "25")]
    [InlineData("labels: are missing", "frame", "--rate", "25")]
    [InlineData("end: '00:00:00:99' has a frame number outside 0 to 23", "duration", "00:00:00:00", "00:00:00:99", "--rate", "24")]
    [InlineData("goes up to 60", "ltc", "00:00:00:00", "--rate", "72")]
    [InlineData("--ppm = 0.00001: is finer", "jam", "--ppm", "0.00001", "--hours", "1", "--rate", "24")]
    [InlineData("--later = 10: is no clip", "off-speed", "--sensor", "96", "--rate", "24", "--start", "10:00:00:00", "--frames", "30", "--later", "10")]
    [InlineData("give either --seconds or --frames", "off-speed", "--sensor", "96", "--rate", "24", "--start", "10:00:00:00")]
    public async Task WrongInput_SaysWhatAndWhatIsAllowed(string problem, params string[] arguments)
    {
        (int exitCode, string output, string error) = await Run(arguments);
        Assert.Equal((ExitCode.BadInput, string.Empty), (exitCode, output));
        Assert.Contains(problem, error);
    }

    private static IEnumerable<string?> Texts(JsonElement rows, string property) => rows.EnumerateArray().Select(row => row.GetProperty(property).GetString());

    private static async Task<JsonElement> Result(params string[] arguments)
    {
        (int exitCode, string output, string error) = await Run([.. arguments, "--json"]);
        Assert.True(exitCode == ExitCode.Done, error);
        return JsonDocument.Parse(output).RootElement.GetProperty("result");
    }

    private static Task<(int ExitCode, string Output, string Error)> Run(params string[] arguments) => Typed.RunAsync(["timecode", .. arguments]);
}
