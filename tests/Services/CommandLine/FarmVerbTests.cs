using System.Text.Json;
using PostPipeline.Cli.Frame;
using Xunit;

namespace PostPipeline.Services.Tests.CommandLine;

/// <summary>The farm verbs on the worked examples of the domain's tests (common practice, no source) and on a night made by hand.</summary>
public sealed class FarmVerbTests : IDisposable
{
    private const string Segments = """
        replications: 2
        farm:
          node_classes:
            - {label: slow, count: 1, speed: 0.6666666666666666}
            - {label: node, count: 11}
        jobs:
          - {label: final, frames: 129600, segment_frames: 2000, seconds_per_frame: 0.8, overhead_seconds: 45 s}
        """;

    private readonly string folder = Directory.CreateTempSubdirectory("postpipeline-farm").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public async Task Farm_WorkedExample_EndsToTheSecond()
    {
        string file = Write("farm.yaml", Segments);
        (int exitCode, string output, string error) = await Run("farm", file, "--due", "3 h", "--json");
        Assert.Equal((ExitCode.Done, string.Empty), (exitCode, error));
        JsonElement result = Result(output);
        Assert.Equal(9_870, result.GetProperty("finish_p50_seconds").GetDouble());
        Assert.Equal(1, result.GetProperty("on_time").GetProperty("value").GetDouble());
        Assert.Equal(result.GetRawText(), Result((await Run("farm", file, "--due", "3 h", "--json")).Output).GetRawText());
        (exitCode, output, _) = await Run("farm", file, "--segments", "100", "500", "2000", "10800");
        Assert.Equal(ExitCode.Done, exitCode);
        Assert.Contains("2.74 h", output, StringComparison.Ordinal);
        Assert.Contains("best", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Farm_WrongFile_NamesEveryLine()
    {
        string file = Write("farm.yaml", "farm:\n  node_clases: []\n  closing: explode\njobs:\n  - {frames: many}\n");
        (int exitCode, string output, string error) = await Run("farm", file);
        Assert.Equal((ExitCode.BadInput, string.Empty), (exitCode, output));
        Assert.Contains(":2:3:", error, StringComparison.Ordinal);
        Assert.Contains("did you mean 'node_classes'?", error, StringComparison.Ordinal);
        Assert.Contains("pause, finish, abandon", error, StringComparison.Ordinal);
        Assert.Contains("jobs[0].frames", error, StringComparison.Ordinal);
    }

    // 40 tasks of 900 s in nightly windows of 3 h: 12 a node, so 4 nodes.
    [Fact]
    public async Task Size_OneNight_FindsFourNodes()
    {
        string file = Write("farm.yaml", """
            replications: 2
            due_seconds: 3 h
            farm:
              node_classes:
                - {label: night, windows: 00:00-03:00 x 30}
            jobs:
              - {frames: 40, segment_frames: 1, seconds_per_frame: 900}
            """);
        (int exitCode, string output, _) = await Run("size", file, "--json");
        Assert.Equal(ExitCode.Done, exitCode);
        Assert.Equal(4, Result(output).GetProperty("nodes").GetInt32());
        (exitCode, output, _) = await Run("size", file, "--most", "3");
        Assert.Equal(ExitCode.No, exitCode);
        Assert.Contains("No count of nodes", output, StringComparison.Ordinal);
    }

    // Two nodes, each 50 s into a task of 100 s; of 60 frames 20 are done, so 20 wait: two more tasks, which end at 150 s.
    [Fact]
    public async Task Tonight_LogOfANight_ForecastsWhatIsLeft()
    {
        string file = Write("night.yaml", """
            replications: 10
            farm:
              node_classes:
                - {label: node, count: 2}
            due_seconds: [140]
            jobs:
              - {label: pull, frames: 60, segment_frames: 10}
            changes:
              - {label: one node out, maintenance: {node_class: node, nodes: 1, window: {from_seconds: 0, until_seconds: 1 h}}}
            """);
        string log = Write("log.csv", """
            Job,Task,Worker,start,end,frames,state
            pull,1,node-a,2031-05-04T20:00:00Z,2031-05-04T20:01:40Z,10,done
            pull,2,node-b,2031-05-04T20:00:00Z,2031-05-04T20:01:40Z,10,done
            pull,3,node-a,2031-05-04T20:01:40Z,,10,running
            pull,4,node-b,2031-05-04T20:01:40Z,,10,running

            """);
        (int exitCode, string output, string error) = await Run("tonight", file, "--log", log, "--job", "Job", "--node", "Worker", "--now", "2031-05-04T20:02:30Z", "--json");
        Assert.Equal((ExitCode.No, string.Empty), (exitCode, error));
        JsonElement night = Result(output).GetProperty("nights")[0].GetProperty("jobs")[0];
        Assert.Equal(150, night.GetProperty("finish_p50_seconds").GetDouble());
        Assert.True(night.GetProperty("will_miss").GetBoolean());
        Assert.Equal("one node out", Result(output).GetProperty("nights")[1].GetProperty("change").GetString());
        (exitCode, _, error) = await Run("tonight", file, "--log", log);
        Assert.Equal(ExitCode.BadInput, exitCode);
        Assert.Contains("log.csv:1: --job = job: the file has no such column; it has Job, Task, Worker", error, StringComparison.Ordinal);
    }

    // One log, two verbs, the same words for its columns, states and clock. On the farm's clock, an hour ahead of UTC, 20:02:30 is 19:02:30 UTC.
    [Fact]
    public async Task Tonight_LogOfAnotherHouse_IsMappedAsFromLogMapsIt()
    {
        string file = Write("night.yaml", "replications: 10\nfarm:\n  node_classes:\n    - {label: node, count: 2}\njobs:\n  - {label: pull, frames: 60, segment_frames: 10}\n");
        string log = Write("log.csv", """
            batch,part,host,began,ended,count,how
            pull,1,node-a,2031-05-04T20:00:00,2031-05-04T20:01:40,10,ok
            pull,2,node-b,2031-05-04T20:00:00,2031-05-04T20:01:40,10,ok
            pull,3,node-a,2031-05-04T20:01:40,,10,busy
            pull,4,node-b,2031-05-04T20:01:40,unknown,10,busy

            """);
        string[] mapped = ["--job", "batch", "--task", "part", "--node", "host", "--start", "began", "--end", "ended", "--frames", "count", "--state", "how", "--done", "ok", "--failed", "broken", "--running", "busy", "--utc-offset", "60"];
        (int exitCode, string output, string error) = await Run(["tonight", file, "--log", log, .. mapped, "--now", "2031-05-04T20:02:30", "--json"]);
        Assert.Equal((ExitCode.Done, string.Empty), (exitCode, error));
        Assert.Equal("2031-05-04T19:02:30Z", Result(output).GetProperty("now").GetString());
        Assert.Equal(150, Result(output).GetProperty("nights")[0].GetProperty("jobs")[0].GetProperty("finish_p50_seconds").GetDouble());
        (exitCode, output, error) = await Run(["benchmarks", "from-log", log, .. mapped, "--json"]);
        Assert.Equal((ExitCode.Done, string.Empty), (exitCode, error));
        Assert.Equal(4, Result(output).GetProperty("attempts").GetInt32());
    }

    // What a file gives and what changes nothing is said in the answer; what would change nothing by oversight is refused.
    [Fact]
    public async Task Farm_KeysThatMatchNothing_AreSaidOrRefused()
    {
        string file = Write("farm.yaml", """
            replications: 2
            farm:
              sharing: fair
              project_weights: {Feature: 3, Featuer: 1}
              node_classes:
                - {label: node, count: 2, speed_by_job_class: {denoise: 2, denoize: 0.5}}
            jobs:
              - {label: final, job_class: denoise, project: Feature, frames: 100, segment_frames: 10, seconds_per_frame: 1}
            """);
        string[] said =
        [
            "farm.node_classes[0].speed_by_job_class[denoize] has no effect: no job is of that class; named here: denoise",
            "farm.project_weights[Featuer] has no effect: no job belongs to that project; named here: Feature",
        ];
        foreach (string[] verb in new[] { new[] { "farm", file }, ["farm", file, "--segments", "10"], ["size", file, "--due", "1 h"] })
        {
            (int exitCode, string output, string error) = await Run([.. verb, "--json"]);
            Assert.Equal((ExitCode.Done, string.Empty), (exitCode, error));
            Assert.Equal(said, Result(output).GetProperty("notes").EnumerateArray().Select(n => n.GetString()));
        }

        Assert.Contains("Note: farm.project_weights[Featuer] has no effect", (await Run("farm", file)).Output.ReplaceLineEndings(" "), StringComparison.Ordinal);
        string wrong = Write("wrong.yaml", """
            replications: 2
            farm:
              project_weights: {Feature: 3}
              night_failure_probability: 0.1
              link_bytes_per_second: 100 MB/s
              node_classes:
                - {label: node, count: 2}
            jobs:
              - {label: final, project: Feature, frames: 100, seconds_per_frame: 1}
            """);
        (int refused, string none, string why) = await Run("farm", wrong);
        Assert.Equal((ExitCode.BadInput, string.Empty), (refused, none));
        Assert.Contains("farm.sharing: is not set, and project_weights are given; allowed is fair, or strict", why, StringComparison.Ordinal);
        Assert.Contains("farm.nights: is empty, and night_failure_probability is 0.1; allowed is one night or more", why, StringComparison.Ordinal);
        Assert.Contains("farm.link_bytes_per_second: is 100000000, and storage_bytes_per_second is 0", why, StringComparison.Ordinal);
    }

    // Logs as farms leave them: a quote that is never closed, text of another encoding, a node that cannot be in two tasks,
    // a task that is done and never ended.
    [Theory]
    [InlineData("pull,node-a,\"2031-05-04T20:00:00Z,,10,running\n", "log.csv:2: a quote is opened and not closed")]
    [InlineData("p\u00fcll,node-a,2031-05-04T20:00:00Z,,10,running\n", "the file is not UTF-8 text")]
    [InlineData("pull,node-a,2031-05-04T20:00:00Z,,10,running\npull,node-a,2031-05-04T20:01:00Z,,10,running\n", "log.csv:3: node = node-a: runs another task that has no end")]
    [InlineData("pull,node-a,2031-05-04T20:00:00Z,,10,done\n", "log.csv:2: end: the state is done and there is no end")]
    [InlineData("pull,node-a,soon,,10,running\n", "log.csv:2: start = soon")]
    public async Task Tonight_LogThatCannotBe_IsRefusedAtItsLine(string rows, string says)
    {
        string file = Write("night.yaml", "farm:\n  node_classes:\n    - {label: node, count: 2}\njobs:\n  - {label: pull, frames: 60, segment_frames: 10, seconds_per_frame: 1}\n");
        string log = Path.Combine(folder, "log.csv");
        await File.WriteAllTextAsync(log, "job,node,start,end,frames,state\n" + rows, System.Text.Encoding.Latin1);
        (int exitCode, string output, string error) = await Run("tonight", file, "--log", log);
        Assert.Equal((ExitCode.BadInput, string.Empty), (exitCode, output));
        Assert.Contains(says, error, StringComparison.Ordinal);
    }

    private static JsonElement Result(string output) => JsonDocument.Parse(output).RootElement.GetProperty("result");

    private static Task<(int ExitCode, string Output, string Error)> Run(params string[] arguments) => Typed.RunAsync([.. arguments, "--quiet"]);

    private string Write(string name, string text)
    {
        string path = Path.Combine(folder, name);
        File.WriteAllText(path, text);
        return path;
    }
}
