using System.Globalization;
using System.Text;
using System.Text.Json;
using PostPipeline.Cli.Frame;
using Xunit;

namespace PostPipeline.Services.Tests.CommandLine;

/// <summary>train, predict and benchmarks on small tables made here; logs are read in <see cref="FarmLogVerbTests"/>.</summary>
public sealed class RenderTimeVerbTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("postpipeline-train").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public async Task TrainAndPredict_MappedColumns_GiveABandThatOwnRowsNarrow()
    {
        string rows = Rows();
        JsonElement trained = Result((await Run("train", rows, "--target", "wall", "--frames", "frames", "--family", "show", "--numbers", "megapixels", "--categories", "kind", "--json")).Output);
        string model = trained.GetProperty("model").GetString()!;
        Assert.False(trained.GetProperty("invented").GetBoolean());
        Assert.True(trained.GetProperty("held_out_median_percent").GetDouble() < trained.GetProperty("baseline_median_percent").GetDouble());

        JsonElement plain = Result((await Run("predict", "--model", model, "--with", "kind=proxy", "megapixels=8", "--json")).Output);
        JsonElement row = plain.GetProperty("rows")[0];

        // Made at 0.01 s a megapixel; shows differ by a tenth at most.
        Assert.InRange(row.GetProperty("seconds_per_frame").GetDouble(), 0.06, 0.1);
        Assert.InRange(0.08, row.GetProperty("low").GetDouble(), row.GetProperty("high").GetDouble());

        string clips = Write("clips.csv", "kind,megapixels,frames\nproxy,8,1000\nmaster,8,500\n");
        string own = Write("own.csv", "kind,megapixels,seconds_per_frame\nproxy,8,0.16\nmaster,4,0.4\n");
        JsonElement total = Result((await Run("predict", "--model", model, "--clips", clips, "--frames", "frames", "--own", own, "--json")).Output).GetProperty("total");
        Assert.InRange(total.GetProperty("seconds").GetDouble(), 480, 640);
    }

    // Every question and every own row that cannot be used is named by its line; on the command line by its option.
    [Fact]
    public async Task Predict_BadQuestions_NamesFileLineAndFeature()
    {
        string[] columns = ["--target", "wall", "--frames", "frames", "--family", "show", "--numbers", "megapixels", "--categories", "kind"];
        string model = Result((await Run(["train", Rows(), .. columns, "--json"])).Output).GetProperty("model").GetString()!;
        string clips = Write("clips.csv", "kind,megapixels\nproxy,8\nhologram,8\nmaster,\n");
        (int exitCode, string output, string error) = await Run("predict", "--model", model, "--clips", clips);
        Assert.Equal((ExitCode.BadInput, string.Empty), (exitCode, output));
        Assert.Contains("clips.csv:3: kind: 'hologram' was never measured; measured were", error, StringComparison.Ordinal);
        Assert.Contains("clips.csv:4: megapixels: it is missing", error, StringComparison.Ordinal);

        string own = Write("own.csv", "kind,megapixels,seconds_per_frame\nproxy,8,0.1\nproxy,8,-1\n");
        (exitCode, _, error) = await Run("predict", "--model", model, "--with", "kind=proxy", "megapixels=8", "--own", own);
        Assert.Equal(ExitCode.BadInput, exitCode);
        Assert.Contains("own.csv:3: seconds_per_frame: -1 s; allowed is above 0", error, StringComparison.Ordinal);

        (exitCode, _, error) = await Run("predict", "--model", model, "--with", "kind=proxy", "megapixels=wide");
        Assert.Equal(ExitCode.BadInput, exitCode);
        Assert.Contains("--with megapixels: 'wide' is not a finite number", error, StringComparison.Ordinal);
    }

    // Rows of the demonstration in a file of one's own are still invented, and the answer says so.
    [Fact]
    public async Task Train_FileHoldsInventedRows_SaysInvented()
    {
        string path = Path.Combine(folder, "all.csv");
        await Run("benchmarks", "invent", "--out", path);
        string[] lines = await File.ReadAllLinesAsync(path);
        string[] projects = ["Saltmarsh", "Low Tide Road", "Harbour Nine", "Winterfold"];
        string some = Write("ours.csv", string.Join('\n', lines.Where((l, i) => i == 0 || projects.Contains(l.Split(',')[1]))) + "\n");
        (int exitCode, string output, string error) = await Run("train", some, "--numbers", "input_width", "output_width", "cores", "--categories", "noise_reduction", "output_coding", "gpu", "--json");
        Assert.True(exitCode == ExitCode.Done, error);
        Assert.True(Result(output).GetProperty("invented").GetBoolean());
        Assert.Contains("of its rows are invented rows of the demonstration", error, StringComparison.Ordinal);
    }

    // The same rows twice as slow: a model learned again from them errs less on them than the old one.
    [Fact]
    public async Task Train_AgainstAnotherModel_SaysWhichErrsLess()
    {
        string[] columns = ["--target", "wall", "--frames", "frames", "--family", "show", "--numbers", "megapixels", "--categories", "kind"];
        string old = Result((await Run(["train", Rows(), .. columns, "--json"])).Output).GetProperty("model").GetString()!;
        string[] again = ["train", Rows(slower: 2), .. columns, "--against", old];
        JsonElement against = Result((await Run([.. again, "--json"])).Output).GetProperty("against");
        Assert.Equal("new", against.GetProperty("better").GetString());
        Assert.Equal(old, against.GetProperty("other").GetProperty("model").GetString());
        Assert.Equal(10, against.GetProperty("families_held_out").GetInt32());
        Assert.True(against.GetProperty("new").GetProperty("mean_percent").GetDouble() < against.GetProperty("other").GetProperty("mean_percent").GetDouble() / 2);
        if (Environment.GetEnvironmentVariable("POSTPIPELINE_LONG") == "1")
        {
            Assert.Contains("the new model errs less", (await Run(again)).Output, StringComparison.Ordinal);
        }

        (int exitCode, _, string error) = await Run(["train", Rows(), .. columns, "--on", "set"]);
        Assert.Equal(ExitCode.BadInput, exitCode);
        Assert.Contains("--against", error, StringComparison.Ordinal);
    }

    // Derived: seconds a frame are proportional to megapixels and five times as many for a master, so the curves' ends are 3 : 1 and 5 : 1.
    [Fact]
    public async Task Train_Dependence_SaysHowThePredictionMoves()
    {
        string[] train = ["train", Rows(), "--target", "wall", "--frames", "frames", "--family", "show", "--numbers", "megapixels", "--categories", "kind"];
        JsonElement[] curves = [.. Result((await Run([.. train, "--dependence", "--json"])).Output).GetProperty("dependence").EnumerateArray()];
        Dictionary<string, double[]> ends = curves.ToDictionary(
            c => c.GetProperty("feature").GetString()!, c => c.GetProperty("points").EnumerateArray().Select(p => p.GetProperty("seconds_per_frame").GetDouble()).Order().ToArray());
        Assert.Equal(["kind", "megapixels"], ends.Keys.Order());
        Assert.InRange(ends["megapixels"][^1] / ends["megapixels"][0], 2.4, 3.6);
        Assert.InRange(ends["kind"][^1] / ends["kind"][0], 4, 6);

        (int exitCode, string output, string error) = await Run([.. train, "--dependence", "kind"]);
        Assert.True(exitCode == ExitCode.Done, error);
        Assert.Contains("s per frame, all else as measured", output, StringComparison.Ordinal);
        Assert.DoesNotContain("12 ", output.Split("s per frame, all else as measured")[1], StringComparison.Ordinal);
        Assert.Equal(0, Result((await Run([.. train, "--json"])).Output).GetProperty("dependence").GetArrayLength());
        (exitCode, _, error) = await Run([.. train, "--dependence", "weather"]);
        Assert.Equal(ExitCode.BadInput, exitCode);
        Assert.Contains("--dependence = weather: is no feature here; allowed is one of kind, megapixels", error, StringComparison.Ordinal);

        // One category alone, of which every show has all eight values, is a setting that is learned value by value.
        string kinds = Write("kinds.csv", "project,kind,seconds_per_frame\n" + string.Concat(Enumerable.Range(0, 96)
            .Select(i => string.Create(CultureInfo.InvariantCulture, $"show {i / 8},kind {i % 8},{0.1 * (1 + (i % 8)) * (1 + (0.3 * Math.Sin(i / 8 * 2.4))):F4}\n"))));
        (exitCode, output, error) = await Run("train", kinds, "--categories", "kind", "--dependence", "--json");
        Assert.True(exitCode == ExitCode.Done, error);
        Assert.Equal(0, Result(output).GetProperty("dependence").GetArrayLength());
        Assert.Contains("kind is a setting that the model learned value by value, so there is no curve for it", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Train_BadRows_NamesFileAndLine()
    {
        string bad = Write("bad.csv", "project,seconds_per_frame,cores\na,1,2\nb,-3,4\nc,1,many\n");
        (int exitCode, string output, string error) = await Run("train", bad);
        Assert.Equal((ExitCode.BadInput, string.Empty), (exitCode, output));
        Assert.Contains("bad.csv:3: seconds_per_frame: -3 s a frame", error, StringComparison.Ordinal);
        Assert.Contains("bad.csv:4: cores: 'many' is not a finite number", error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("--target", "hours", "the file has no such column")]
    [InlineData("--numbers", "weather", "rows.csv:1: --numbers = weather: the file has no such column; it has show, kind, megapixels, frames, wall")]
    [InlineData("--frames", "count", "rows.csv:1: --frames = count: the file has no such column")]
    public async Task Train_UnknownColumn_IsRefusedByName(string option, string value, string text)
    {
        (int exitCode, _, string error) = await Run(["train", Rows(), "--family", "show", "--categories", "kind", option, value, .. option == "--target" ? Array.Empty<string>() : ["--target", "wall"]]);
        Assert.Equal(ExitCode.BadInput, exitCode);
        Assert.Contains(text, error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Benchmarks_Invent_IsTheFileOfTheRepository()
    {
        string path = Path.Combine(folder, "out.csv");
        Assert.Equal(ExitCode.Done, (await Run("benchmarks", "invent", "--out", path)).ExitCode);
        Assert.Equal(
            await File.ReadAllTextAsync(Path.Combine(PostPipeline.Testing.Outside.Root, "notebooks", "data", "demo-benchmarks.csv")), await File.ReadAllTextAsync(path));
    }

    [Fact]
    public async Task Benchmarks_ListExportDelete_RoundTrip()
    {
        string text = "project,seconds_per_frame,cores\n\"a, b\",1,2\nc,2,4\nd,3,6\n";
        string file = Write("small.csv", text);

        // Too few distinct rows to learn from, but the set is kept.
        await Run("train", file);
        string set = Result((await Run("benchmarks", "list", "--json")).Output)[0].GetProperty("set").GetString()!;
        Assert.Equal(text, (await Run("benchmarks", "export", set)).Output);
        Assert.Equal(ExitCode.Done, (await Run("benchmarks", "delete", set)).ExitCode);
        Assert.Equal(0, Result((await Run("benchmarks", "list", "--json")).Output).GetArrayLength());
    }

    [SkippableFact]
    public async Task Measure_SmallDesign_WritesARowForEachRepeat()
    {
        PostPipeline.Testing.Outside.Program("ffmpeg");
        string path = Path.Combine(folder, "measured.csv");
        (int exitCode, _, string error) = await Run("measure", "--rasters", "64x48", "--codings", "mpeg2", "--threads", "1", "--frames", "4", "--out", path);
        Assert.True(exitCode == ExitCode.Done, error);
        string[] rows = await File.ReadAllLinesAsync(path);

        // Three patterns, three repeats, and the header.
        Assert.Equal(10, rows.Length);
        Assert.StartsWith("synthetic testsrc2,intra,64,48,mpeg2,1,4,1,", rows[1], StringComparison.Ordinal);
    }

    [Fact]
    public async Task Measure_UnknownCoding_IsRefusedWithWhatIsAllowed()
    {
        (int exitCode, _, string error) = await Run("measure", "--codings", "hologram", "--out", Path.Combine(folder, "none.csv"));
        Assert.Equal(ExitCode.BadInput, exitCode);
        Assert.Contains("allowed are h264, h265", error, StringComparison.Ordinal);
    }

    private static JsonElement Result(string output) => JsonDocument.Parse(output).RootElement.GetProperty("result");

    private string Rows(double slower = 1)
    {
        StringBuilder text = new("show,kind,megapixels,frames,wall\n");
        for (int show = 0; show < 10; show++)
        {
            for (int size = 1; size <= 3; size++)
            {
                foreach ((string kind, double cost) in new[] { ("proxy", 0.01), ("master", 0.05) })
                {
                    double wall = slower * 240 * size * 4 * cost * (1 + (0.1 * Math.Sin(show * 2.4)));
                    text.Append(CultureInfo.InvariantCulture, $"show {show},{kind},{size * 4},240,{wall:F4}\n");
                }
            }
        }

        return Write("rows.csv", text.ToString());
    }

    private string Write(string name, string text)
    {
        string path = Path.Combine(folder, name);
        File.WriteAllText(path, text);
        return path;
    }

    private Task<(int ExitCode, string Output, string Error)> Run(params string[] arguments) => Typed.RunAsync([.. arguments, "--data", Path.Combine(folder, "data")]);
}
