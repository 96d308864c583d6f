using System.Globalization;
using System.Text;
using System.Text.Json;
using PostPipeline.Cli.Frame;
using Xunit;

namespace PostPipeline.Services.Tests.CommandLine;

/// <summary>benchmarks from-log on logs made here, whose numbers follow by hand.</summary>
public sealed class FarmLogVerbTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("postpipeline-log").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    // Derived: 20 s a task and half a second a frame, mapped columns and words, one failure, one task still running.
    [Fact]
    public async Task FromLog_MappedColumns_FindsOverheadAndFailures()
    {
        StringBuilder log = new("batch,part,host,began,ended,count,how\n");
        for (int i = 0; i < 40; i++)
        {
            int frames = 100 * (1 + (i % 4));
            DateTime start = new DateTime(2026, 3, 2, 20, 0, 0, DateTimeKind.Utc).AddSeconds(i * 300);
            log.Append(CultureInfo.InvariantCulture, $"a,{i},n{i / 4 % 2},{start:yyyy-MM-ddTHH:mm:ss},{start.AddSeconds(20 + (0.5 * frames)):yyyy-MM-ddTHH:mm:ss},{frames},ok\n");
        }

        log.Append("a,40,n0,2026-03-03T02:00:00,2026-03-03T02:01:00,100,broken\na,41,n0,2026-03-03T02:02:00,,100,busy\n");
        string[] mapped =
        [
            "benchmarks", "from-log", Write("log.csv", log.ToString()), "--job", "batch", "--task", "part", "--node", "host", "--start", "began", "--end", "ended",
            "--frames", "count", "--state", "how", "--done", "ok", "--failed", "broken", "--running", "busy", "--out", Path.Combine(folder, "rows-of-log.csv"), "--json",
        ];
        JsonElement result = Result((await Run(mapped)).Output);
        Assert.Equal(20, result.GetProperty("task_overhead_seconds").GetDouble(), 1e-6);
        Assert.Equal(0.5, result.GetProperty("jobs")[0].GetProperty("seconds_per_frame").GetDouble(), 1e-9);
        Assert.Equal(1 / 41.0, result.GetProperty("failure_rate").GetDouble(), 1e-12);
        Assert.Equal(41, File.ReadLines(Path.Combine(folder, "rows-of-log.csv")).Count());
        (int exitCode, _, string error) = await Run([.. mapped.Select(m => m == "broken" ? "lost" : m)]);
        Assert.Equal(ExitCode.BadInput, exitCode);
        Assert.Contains("log.csv:42: how = broken", error, StringComparison.Ordinal);

        // A word that is said to be two states is neither.
        (exitCode, _, error) = await Run([.. mapped.Select(m => m == "broken" ? "OK" : m)]);
        Assert.Equal(ExitCode.BadInput, exitCode);
        Assert.Contains("--failed = OK: stands for done already; allowed is one state for a word", error, StringComparison.Ordinal);
    }

    // One row too many is refused at its line; whoever gives up is not kept until the end of the file.
    [Fact]
    public async Task FromLog_LogWithoutEnd_IsBoundedAndCanBeGivenUp()
    {
        string file = Path.Combine(folder, "long.csv");
        await File.WriteAllTextAsync(file, "job,task,node,start,end,frames,state\n" + string.Concat(Enumerable.Repeat("a,1,n,0,1,1,done\n", 1_000_001)));
        (int exitCode, string output, string error) = await Run("benchmarks", "from-log", file, "--quiet");
        Assert.Equal((ExitCode.BadInput, string.Empty), (exitCode, output));
        Assert.Equal($"{file}:1000002: the log has more than 1000000 rows; allowed is up to 1000000, so split it by days\n", error);

        // Given up at the first report of how far the reading is, which comes after a thousand rows.
        using CancellationTokenSource source = new();
        int rows = 0;
        Assert.ThrowsAny<OperationCanceledException>(() =>
        {
            foreach (var _ in PostPipeline.Studies.Benchmarks.RowFile.Open(file).Rows(new Stop(source)))
            {
                source.Token.ThrowIfCancellationRequested();
                rows++;
            }
        });
        Assert.Equal(999, rows);
        using StringWriter said = new();
        await source.CancelAsync();
        Assert.Equal(ExitCode.GivenUp, await PostPipeline.Cli.Frame.CommandLine.RunAsync(["benchmarks", "from-log", file, "--quiet"], TextWriter.Null, said, source.Token));
    }

    // By hand: two tasks done at their first attempt and one at its third, which has no other row: 2 of 5 attempts failed.
    [Theory]
    [InlineData("attempt")]
    [InlineData("try")]
    public async Task FromLog_NumberedAttempts_CountTheOnesWithoutARow(string column)
    {
        string text = $"job,task,node,start,end,frames,state,{column}\na,1,n,0,10,10,done,1\na,2,n,10,20,10,done,3\na,3,n,20,30,10,done,\n";
        string[] named = column == "attempt" ? [] : ["--attempt", column];
        JsonElement result = Result((await Run(["benchmarks", "from-log", Write("numbered.csv", text), .. named, "--json"])).Output);
        Assert.Equal(2, result.GetProperty("unlogged_attempts").GetInt32());
        Assert.Equal(0.4, result.GetProperty("failure_rate").GetDouble(), 1e-12);
        Assert.Equal(1 / 3.0, result.GetProperty("retry_rate").GetDouble(), 1e-12);
        (int exitCode, _, string error) = await Run(["benchmarks", "from-log", Write("numbered.csv", text.Replace("done,3", "done,third", StringComparison.Ordinal)), .. named]);
        Assert.Equal(ExitCode.BadInput, exitCode);
        Assert.Contains($"numbered.csv:3: {column} = third", error, StringComparison.Ordinal);
    }

    private sealed class Stop(CancellationTokenSource source) : IProgress<double>
    {
        public void Report(double value) => source.Cancel();
    }

    private static JsonElement Result(string output) => JsonDocument.Parse(output).RootElement.GetProperty("result");

    private string Write(string name, string text)
    {
        string path = Path.Combine(folder, name);
        File.WriteAllText(path, text);
        return path;
    }

    private Task<(int ExitCode, string Output, string Error)> Run(params string[] arguments) => Typed.RunAsync([.. arguments, "--data", Path.Combine(folder, "data")]);
}
