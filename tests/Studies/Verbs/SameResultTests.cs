using System.Text.Json;
using PostPipeline.Cli.Frame;
using PostPipeline.Studies.Reforecasts;
using PostPipeline.Studies.Tests.Slates.Files;
using Xunit;

namespace PostPipeline.Studies.Tests.Verbs;

/// <summary>
/// The same question with the same seed has the same <c>result</c>, byte for byte: on one thread with the services inside this
/// process, and on two over services in three processes of their own. Draws are addressed by seed, draw and input, so how many
/// threads share them cannot matter; plans count steps, so the time of day cannot.
/// </summary>
public sealed class SameResultTests : IClassFixture<SameResultTests.Place>
{
    private readonly Place place;

    public SameResultTests(Place place) => this.place = place;

    /// <summary>Briefs, a frozen plan with its log, a slate with an adopted plan, and services that are served.</summary>
    public sealed class Place : IAsyncLifetime
    {
        private const string Brief = """
            brief: 1
            title: Verbs
            production: documentary
            shoot: {starts: 2026-09-07, days: 4, cameras: 2, hours_per_day: {low: 1 h, likely: 1.5 h, high: 2.5 h, known: guessed}}
            modes: [{name: main, sustained: yes, trimmable: yes}]
            storage: {online: {capacity: 100 TB}, nearline: {capacity: 100 TB}}
            edit: {finished: 30 min, lock: 2026-12-01}
            finish: {grade: {low: 40 h, likely: 60 h, high: 90 h}}
            deliver: {due: 2027-02-01, raster: 3840x2160}
            farm: {replications: 20, nodes: [{name: node, count: 4}]}
            proxies: {names_kept: yes}
            """;

        private ServedHosts? hosts;

        public string Folder { get; } = Directory.CreateTempSubdirectory("same-result").FullName;

        public IReadOnlyList<string> Addresses => hosts!.Addresses;

        public async Task InitializeAsync()
        {
            Task<ServedHosts> starting = ServedHosts.StartAsync(Folder);
            Write("brief.yaml", Brief);
            Write("later.yaml", Brief.Replace("likely: 60 h", "likely: 80 h", StringComparison.Ordinal));
            string slateBrief = SlateSamples.Brief + "farm: {replications: 20}\n";
            Write("alder.yaml", slateBrief);
            Write("birch.yaml", slateBrief);
            Write("slate.yaml", SlateSamples.TwoProjects);
            await Run("reforecast", "brief.yaml", "--baseline", "frozen.json", "--draws", "40");
            Baseline baseline = Baseline.ReadFile(Path.Combine(Folder, "frozen.json"));
            Write("log.csv", FormattableString.Invariant($"date,unit,cameras,bytes,minutes,clips,events_conformed,problem_events,farm_frames,farm_seconds\n2026-09-07,main,2,{(long)(baseline.Days[0].Bytes * 1.3)},200,40,20,3,100000,9000\n2026-09-08,main,2,{(long)baseline.Days[1].Bytes},190,41,,,120000,9500\n"));
            Write("plan.json", (await Run("slate", "plan", "slate.yaml", "--draws", "30", "--seconds", "0.3", "--json")).Output);
            hosts = await starting;
        }

        public Task DisposeAsync()
        {
            hosts?.Dispose();
            Directory.Delete(Folder, recursive: true);
            return Task.CompletedTask;
        }

        public async Task<(string Output, string Error)> Run(params string[] arguments)
        {
            string[] files = [.. arguments.Select(a => a is "frozen.json" || File.Exists(Path.Combine(Folder, a)) ? Path.Combine(Folder, a) : a)];
            using StringWriter output = new();
            using StringWriter error = new();
            await CommandLine.RunAsync([.. files, "--data", Path.Combine(Folder, "data")], output, error, CancellationToken.None);
            return (output.ToString(), error.ToString());
        }

        private void Write(string name, string text) => File.WriteAllText(Path.Combine(Folder, name), text);
    }

    /// <summary>Questions of the long tier: what they ask of the services and of draws is asked by the others too.</summary>
    public static TheoryData<string[]> Further => Environment.GetEnvironmentVariable("POSTPIPELINE_LONG") != "1" ? [] :
    [
        new[] { "buys", "brief.yaml", "--draws", "60" },
        new[] { "diff", "brief.yaml", "later.yaml", "--draws", "60" },
        new[] { "slate", "check", "slate.yaml", "--draws", "30" },
        new[] { "slate", "usage", "slate.yaml", "--week-of", "2027-02-01", "--draws", "30", "--seconds", "0.3" },
    ];

    [Theory]
    [MemberData(nameof(Further))]
    [InlineData("compare", "brief.yaml", "--draws", "60")]
    [InlineData("sweep", "brief.yaml", "--over", "farm.nodes.node=1,4", "--draws", "60")]
    [InlineData("tipping", "brief.yaml", "--along", "farm.nodes.node=1:8", "--draws", "40", "--parts", "20")]
    [InlineData("sensitivity", "brief.yaml", "--points", "64", "--scrambles", "4")]
    [InlineData("find-out", "brief.yaml", "--draws", "100")]
    [InlineData("reforecast", "brief.yaml", "--log", "log.csv", "--baseline", "frozen.json", "--draws", "60")]
    [InlineData("slate", "plan", "slate.yaml", "--share", "money=2", "--draws", "30", "--seconds", "0.3")]
    [InlineData("slate", "shock", "slate.yaml", "--project", "Alder", "--what", "camera", "--draws", "30", "--seconds", "0.3")]
    [InlineData("slate", "shock", "slate.yaml", "--project", "Alder", "--what", "slip", "--running", "plan.json", "--seconds", "0.3")]
    [InlineData("slate", "enquiry", "slate.yaml", "--project", "Birch", "--running", "plan.json", "--seconds", "0.2")]
    public async Task Verb_OnOneThreadEmbeddedAndOnTwoOverProcesses_GivesTheSameResult(params string[] arguments)
    {
        async Task<string> On(params string[] how)
        {
            (string output, string error) = await place.Run([.. arguments, .. how, "--json"]);
            Assert.True(output.Length > 0, error);
            using JsonDocument document = JsonDocument.Parse(output);
            Assert.True(document.RootElement.TryGetProperty("result", out JsonElement result) && document.RootElement.GetProperty("schema").GetString() != "postpipeline.error/1", output + error);
            return result.GetRawText();
        }

        string one = await On("--threads", "1");
        Assert.True(one.Length > 100, one);
        Assert.Equal(one, await On(["--threads", "2", "--services", .. place.Addresses]));
    }
}
