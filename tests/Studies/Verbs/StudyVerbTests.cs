using System.Text.Json;
using PostPipeline.Cli.Frame;
using PostPipeline.Studies.Reforecasts;
using Xunit;

namespace PostPipeline.Studies.Tests.Verbs;

/// <summary>The study verbs as a user calls them: what they answer, and what they say to what cannot be used.</summary>
public sealed class StudyVerbTests : IClassFixture<StudyVerbTests.Place>
{
    private readonly Place place;

    public StudyVerbTests(Place place) => this.place = place;

    /// <summary>One folder and one data folder for all, so that render times are learned once.</summary>
    public sealed class Place : IDisposable
    {
        public Place()
        {
            Folder = Directory.CreateTempSubdirectory("study-verbs").FullName;
            File.WriteAllText(Brief, Text);
            File.WriteAllText(Path.Combine(Folder, "later.yaml"), Text.Replace("grade: {low: 40 h, likely: 60 h, high: 90 h}", "grade: {low: 140 h, likely: 160 h, high: 190 h}", StringComparison.Ordinal));
            File.WriteAllText(Path.Combine(Folder, "notes.csv"), "my,own,notes\n");
        }

        public string Folder { get; }

        public string Brief => Path.Combine(Folder, "brief.yaml");

        public void Dispose() => Directory.Delete(Folder, recursive: true);

        private const string Text = """
            brief: 1
            title: Verbs
            production: documentary
            shoot: {starts: 2026-09-07, days: 4, cameras: 2, hours_per_day: {low: 1 h, likely: 1.5 h, high: 2.5 h, known: guessed}}
            modes: [{name: main, sustained: yes, trimmable: yes}]
            cards: [{name: card, count: 12}]
            offload: {destinations: [{size: 4 TB, count: 2}, {}]}
            storage: {online: {capacity: 100 TB}, nearline: {capacity: 100 TB}}
            edit: {finished: 30 min, lock: 2026-12-01}
            finish: {grade: {low: 40 h, likely: 60 h, high: 90 h}}
            deliver: {due: 2027-02-01, raster: 3840x2160}
            farm: {replications: 20, nodes: [{name: node, count: 4}]}
            proxies: {names_kept: yes}
            """;
    }

    [Theory]
    [InlineData("--draws = 3: allowed is 20 to 100000", "compare", "BRIEF", "--draws", "3")]
    [InlineData("'many' for option '--draws' as a whole number", "compare", "BRIEF", "--draws", "many")]
    [InlineData("--threads = 0: allowed is 1 to 256", "compare", "BRIEF", "--threads", "0")]
    [InlineData("--why = costs: allowed is bytes-per-day", "compare", "BRIEF", "--why", "costs")]
    [InlineData("nothere.yaml: the file is not there", "compare", "nothere.yaml")]
    [InlineData("nothere.yaml: the file is not there", "check", "nothere.yaml")]
    [InlineData("Option '--over' is required", "sweep", "BRIEF")]
    [InlineData("--show = speed: allowed is delivery-p10", "sweep", "BRIEF", "--over", "farm.nodes.node=1,2", "--show", "speed")]
    [InlineData("--over = farm.nodes.nod=1,2: There is no input 'farm.nodes.nod'; did you mean 'farm.nodes.node'?", "sweep", "BRIEF", "--over", "farm.nodes.nod=1,2")]
    [InlineData("--over = farm.nodes.node=-5,2: farm.nodes.node = -5 nodes cannot be; allowed is 0 nodes to 10000 nodes", "sweep", "BRIEF", "--over", "farm.nodes.node=-5,2")]
    [InlineData("allowed is 0 % to 50 %", "sweep", "BRIEF", "--over", "farm.failures=0,2")]
    [InlineData("with a count from 2 to 1000", "sweep", "BRIEF", "--over", "farm.nodes.node=1:8:3000")]
    [InlineData("INPUT=a,b,c or INPUT=from:to:count is expected", "sweep", "BRIEF", "--over", "farm.nodes.node")]
    [InlineData("of different inputs", "sweep", "BRIEF", "--over", "farm.nodes.node=1,2", "--over", "farm.nodes.node=3,4")]
    [InlineData("is no record of a sweep and is left as it is", "sweep", "BRIEF", "--over", "farm.nodes.node=1,2", "--record", "NOTES", "--draws", "20")]
    [InlineData("--record = /nowhere/x.csv: ", "sweep", "BRIEF", "--over", "farm.nodes.node=1,2", "--record", "/nowhere/x.csv", "--draws", "20")]
    [InlineData("--along = farm.nodes.node=8:1: the first end must lie below the second", "tipping", "BRIEF", "--along", "farm.nodes.node=8:1")]
    [InlineData("--along = farm.nodes.node=1: INPUT=from:to is expected", "tipping", "BRIEF", "--along", "farm.nodes.node=1")]
    [InlineData("--along = finish.problem_share=0:7: finish.problem_share = 700 % cannot be; allowed is 0 % to 100 %", "tipping", "BRIEF", "--along", "finish.problem_share=0:7")]
    [InlineData("--parts = 2: allowed is 10 to 10,000,000", "tipping", "BRIEF", "--along", "farm.nodes.node=1:8", "--parts", "2")]
    [InlineData("--points = 100: allowed is a power of two", "sensitivity", "BRIEF", "--points", "100")]
    [InlineData("--scrambles = 2: allowed is 3 to 100", "sensitivity", "BRIEF", "--scrambles", "2")]
    [InlineData("evaluations; allowed is 10000000: take fewer points or scrambles", "sensitivity", "BRIEF", "--points", "65536", "--scrambles", "100")]
    [InlineData("--pipeline = proxi: the brief compares native, transcode, proxy", "sensitivity", "BRIEF", "--pipeline", "proxi")]
    [InlineData("'delivery'", "sensitivity", "BRIEF", "--of", "colour")]
    [InlineData("--draws = 10: allowed is 20", "find-out", "BRIEF", "--draws", "10")]
    [InlineData("--draws = 200000: allowed is 20 to 100000", "buys", "BRIEF", "--draws", "200000")]
    [InlineData("nothere.csv: the file is not there", "reforecast", "BRIEF", "--log", "nothere.csv", "--baseline", "frozen.json")]
    [InlineData("Option '--baseline' is required", "reforecast", "BRIEF")]
    [InlineData("this is not a baseline", "reforecast", "BRIEF", "--baseline", "NOTES")]
    [InlineData("Required argument 'after' missing", "diff", "BRIEF")]
    [InlineData("nothere.yaml: the file is not there", "diff", "BRIEF", "nothere.yaml")]
    [InlineData("'set-up'", "print", "setup", "BRIEF")]
    public async Task Verb_WhatCannotBeUsed_NamesTheOptionAndWhatIsAllowed(string says, params string[] arguments)
    {
        (int exitCode, string output, string error) = await Run(arguments);
        Assert.Equal(ExitCode.BadInput, exitCode);
        Assert.Contains(says, error, StringComparison.Ordinal);
        Assert.Empty(output);
        Assert.Equal("my,own,notes\n", await File.ReadAllTextAsync(Path.Combine(place.Folder, "notes.csv")));
        Assert.False(File.Exists("frozen.json"));
    }

    [Fact]
    public async Task Sensitivity_OfARealModel_SharesTheVarianceAndSaysHowMuchItTook()
    {
        (int exitCode, string output, string error) = await Run("sensitivity", "BRIEF", "--points", "64", "--scrambles", "4", "--json");
        Assert.Equal(ExitCode.Done, exitCode);
        Assert.Matches(@"… \d+ evaluations of \d+ inputs and chance; \d+ constants are left out", error);
        using JsonDocument document = JsonDocument.Parse(output);
        JsonElement result = document.RootElement.GetProperty("result");
        foreach (JsonElement pipeline in result.GetProperty("pipelines").EnumerateArray())
        {
            JsonElement[] indices = [.. pipeline.GetProperty("indices").EnumerateArray()];
            Assert.Equal(result.GetProperty("evaluations").GetInt64(), (indices.Length + 2) * 64 * 4);
            Assert.DoesNotContain(indices, i => i.GetProperty("input").GetString() is "people.graders" or "farm.speed" or "storage.keep");
            Assert.Contains(indices, i => i.GetProperty("input").GetString() == "chance");
            Assert.True(pipeline.GetProperty("standard_deviation").GetDouble() > 3600);

            // What ends weeks after the shoot hangs on the edit and the finish; what an input does alone is a part of what it does
            // with others.
            Assert.Matches("^(edit|finish|deliver)[.]", indices[0].GetProperty("input").GetString());
            Assert.All(indices, i => Assert.True(i.GetProperty("first").GetDouble() - i.GetProperty("first_half_width").GetDouble() <= i.GetProperty("total").GetDouble() + i.GetProperty("total_half_width").GetDouble()));
        }
    }

    [Fact]
    public async Task FindOut_Terminal_SaysWhatTheChoiceIsHeldAgainstAndWhichGatesAreOpen()
    {
        (int exitCode, string output, _) = await Run("find-out", "BRIEF", "--draws", "400");
        Assert.Equal(ExitCode.Done, exitCode);
        Assert.True(output.Contains("stands in for the choice", StringComparison.Ordinal) || output.Contains("Held against today's choice", StringComparison.Ordinal), output);

        // Nobody has measured what a seat decodes, and no input can change that.
        Assert.Contains("Not known whatever the inputs are", output, StringComparison.Ordinal);
        Assert.Contains("nobody has measured what it decodes", output.ReplaceLineEndings(" "), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Reforecast_TwoDays_SaysWhatMovedAndWhatIsLeft()
    {
        string frozen = Path.Combine(place.Folder, "frozen.json");
        Assert.Equal(ExitCode.Done, (await Run("reforecast", "BRIEF", "--baseline", frozen, "--draws", "50")).ExitCode);
        Baseline baseline = Baseline.ReadFile(frozen);
        string log = Path.Combine(place.Folder, "log.csv");
        await File.WriteAllTextAsync(log, FormattableString.Invariant($"date,unit,bytes\n2026-09-07,main,{(long)(baseline.Days[0].Bytes * 1.1)}\n2026-09-08,main,{(long)(baseline.Days[1].Bytes * 4)}\n"));
        (int exitCode, string output, _) = await Run("reforecast", "BRIEF", "--baseline", frozen, "--log", log, "--draws", "50");
        Assert.Equal(ExitCode.Done, exitCode);
        string flat = output.ReplaceLineEndings(" ");
        Assert.Contains("Next day 2026-09-09, unit main:", flat, StringComparison.Ordinal);
        Assert.Contains("cards 'card': 12 left, the day takes", flat, StringComparison.Ordinal);
        Assert.Contains("drives of copy 1:", flat, StringComparison.Ordinal);
        Assert.Contains("Since yesterday:", flat, StringComparison.Ordinal);
        Assert.Contains("whole shoot P50:", flat, StringComparison.Ordinal);
        Assert.Contains("a remaining day's bytes against plan:", flat, StringComparison.Ordinal);
        Assert.Contains("ALERT plan left, 2026-09-0", flat, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Diff_OneInput_IsNamedAndOnlyWhatMovedIsShown()
    {
        (int exitCode, string output, _) = await Run("diff", "BRIEF", Path.Combine(place.Folder, "later.yaml"), "--draws", "60", "--json");
        Assert.Equal(ExitCode.Done, exitCode);
        using JsonDocument document = JsonDocument.Parse(output);
        JsonElement result = document.RootElement.GetProperty("result");
        Assert.Equal("finish.grade", Assert.Single(result.GetProperty("inputs").EnumerateArray()).GetProperty("input").GetString());
        Assert.All(result.GetProperty("outcomes").EnumerateArray(), o => Assert.NotEqual(o.GetProperty("before").GetString(), o.GetProperty("after").GetString()));
        Assert.DoesNotContain(result.GetProperty("outcomes").EnumerateArray(), o => o.GetProperty("what").GetString() == "bytes per day, mean");
    }

    private async Task<(int ExitCode, string Output, string Error)> Run(params string[] arguments)
    {
        using StringWriter output = new();
        using StringWriter error = new();
        string[] given = [.. arguments.Select(a => a == "BRIEF" ? place.Brief : a == "NOTES" ? Path.Combine(place.Folder, "notes.csv") : a), "--data", Path.Combine(place.Folder, "data")];
        int exitCode = await CommandLine.RunAsync(given, output, error, CancellationToken.None);
        return (exitCode, output.ToString(), error.ToString());
    }
}
