using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using PostPipeline.Cli.Frame;
using PostPipeline.Embedded;
using PostPipeline.Slates.Files;
using PostPipeline.Slates.Options;
using PostPipeline.Slates.Planning;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Preparing;
using PostPipeline.Studies.Tests.Slates.Files;
using Xunit;

namespace PostPipeline.Studies.Tests.Verbs;

/// <summary>A plan written by <c>slate plan --json</c> and read again by the verbs that ask what happens to it.</summary>
public sealed partial class RunningPlanVerbTests : IClassFixture<RunningPlanVerbTests.Adopted>
{
    private const int Draws = 40;
    private readonly Adopted adopted;

    public RunningPlanVerbTests(Adopted adopted) => this.adopted = adopted;

    /// <summary>One plan, adopted, and its slate evaluated once.</summary>
    public sealed class Adopted : IAsyncLifetime
    {
        public string Folder { get; } = Directory.CreateTempSubdirectory("running-plan").FullName;

        public Slate Slate { get; private set; } = null!;

        public SlateProblem Problem { get; private set; } = null!;

        public string Text { get; private set; } = string.Empty;

        public async Task InitializeAsync()
        {
            foreach (string brief in new[] { "alder.yaml", "birch.yaml" })
            {
                await File.WriteAllTextAsync(Path.Combine(Folder, brief), SlateSamples.Brief);
            }

            await File.WriteAllTextAsync(Path.Combine(Folder, "slate.yaml"), SlateSamples.TwoProjects);
            await File.WriteAllTextAsync(Path.Combine(Folder, "alone.yaml"), WithoutBirch().Replace(SlateSamples.TwoProjects, string.Empty));
            Text = (await Run("plan", "slate.yaml", "--draws", $"{Draws}", "--seconds", "1", "--json")).Output;
            await File.WriteAllTextAsync(Path.Combine(Folder, "plan.json"), Text);
            Slate = SlateReader.ReadFile(Path.Combine(Folder, "slate.yaml"));
            await using EmbeddedSuite suite = EmbeddedSuite.InFolder(Path.Combine(Folder, "data"));
            Problem = new SlateProblemBuilder(SlateEvaluation.Of(Slate, await SlateEvaluation.PrepareAsync(Slate, new Preparation(suite.Clients)), Draws)).Build();
        }

        public Task DisposeAsync()
        {
            Directory.Delete(Folder, recursive: true);
            return Task.CompletedTask;
        }

        public async Task<(int ExitCode, string Output, string Error)> Run(string verb, string slate, params string[] options)
        {
            using StringWriter output = new();
            using StringWriter error = new();
            int exitCode = await CommandLine.RunAsync(["slate", verb, Path.Combine(Folder, slate), .. options, "--data", Path.Combine(Folder, "data")], output, error, CancellationToken.None);
            return (exitCode, output.ToString(), error.ToString());
        }
    }

    [Fact]
    public void Plan_WrittenAndRead_IsTheSameAndStaysWhereItIs()
    {
        SlatePlan read = RunningPlanFile.Read("plan.json", adopted.Text).On(adopted.Slate, adopted.Problem);
        JsonNode written = JsonNode.Parse(adopted.Text)!["result"]!;
        Assert.Equal(
            written["projects"]!.AsArray().SelectMany(p => p!["stages"]!.AsArray().Select(s => $"{p["project"]} {p["pipeline"]} {s!["stage"]} {s["start"]} {s["end"]} {s["farm_class"]} {s["nodes"]}")),
            read.Projects.SelectMany(p => p.Stages.Select(s => $"{p.Project} {p.Pipeline} {s.Stage} {s.Start} {s.End} {s.FarmClass} {s.Nodes}")));
        Assert.Equal(written["projects"]!.AsArray().Select(p => ((int)p!["late_half_days"]!, (long)p["money"]!)), read.Projects.Select(p => (p.LateSlots, p.Money)));

        // Nothing has happened: whatever the week, nothing moves and nothing more is rented.
        foreach (int now in new[] { 0, 14, 42, 100 })
        {
            SlateProblem firm = adopted.Problem with { Projects = [.. adopted.Problem.Projects.Select(p => p with { Hold = HoldRank.Firm, HoldExpires = null })] };
            SlatePlan again = RunningSlate.Replan(firm, read, now, new() { Seconds = 0.5, Repeatable = true }).Plan!;
            Assert.Equal(read.Projects.SelectMany(p => p.Stages), again.Projects.SelectMany(p => p.Stages));
            Assert.Equal((0L, read.Rented), (again.Value(PlanLevel.Changes), again.Rented));
        }
    }

    // Known in the third week, when both shoots are over: what the plan had started by then does not start at another time.
    [Theory]
    [InlineData("camera")]
    [InlineData("nodes")]
    public async Task Shock_OfTheAdoptedPlan_LeavesWhatHasStarted(string what)
    {
        (_, string output, string error) = await adopted.Run("shock", "slate.yaml", "--project", "Alder", "--what", what, "--week", "3", "--running", Plan, "--seconds", "0.4", "--json");
        Assert.True(output.Length > 0, error);
        JsonNode result = JsonNode.Parse(output)!["result"]!;
        Assert.Equal("read", (string)result["before"]!);
        foreach (JsonNode? project in result["projects"]!.AsArray())
        {
            JsonNode before = JsonNode.Parse(adopted.Text)!["result"]!["projects"]!.AsArray().Single(p => (string)p!["project"]! == (string)project!["project"]!)!;
            string[] started = [.. before["stages"]!.AsArray().Where(s => (int)s!["start"]! < 42).Select(s => (string)s!["stage"]!)];
            Assert.Contains("shoot and offload", started);
            Assert.DoesNotContain(project!["stages_that_move"]!.AsArray(), s => started.Contains((string)s!));
            Assert.Equal((string)before["planned_end"]!, (string)project["end_before"]!);
            Assert.Equal((string)before["pipeline"]!, (string)project["pipeline_before"]!);
        }

        Assert.Empty(result["projects"]![1]!["stages_that_move"]!.AsArray());
    }

    // A plan of Alder alone, adopted before anybody asked for Birch, and the plan of both: Alder is where it was in each.
    [Theory]
    [InlineData("alone.json")]
    [InlineData("plan.json")]
    public async Task Enquiry_BesideTheAdoptedPlan_LeavesTheOthersThere(string file)
    {
        (int planned, string alone, _) = await adopted.Run("plan", "alone.yaml", "--draws", $"{Draws}", "--seconds", "0.4", "--json");
        Assert.InRange(planned, ExitCode.Done, ExitCode.No);
        await File.WriteAllTextAsync(Path.Combine(adopted.Folder, "alone.json"), alone);
        (int exitCode, string output, string error) = await adopted.Run("enquiry", "slate.yaml", "--project", "Birch", "--running", Path.Combine(adopted.Folder, file), "--seconds", "0.2");
        Assert.True(exitCode == ExitCode.Done, output + error);
        string flat = output.ReplaceLineEndings(" ");
        Assert.Contains("Birch: yes, on", flat, StringComparison.Ordinal);
        Assert.DoesNotContain("Alder moves", flat, StringComparison.Ordinal);
        Assert.Contains("what has started by 2027-01-04 stays", flat, StringComparison.Ordinal);
    }

    // Three weeks on, Birch records three hours a day instead of two: Alder is not touched, and what Birch has started stays.
    [Fact]
    public async Task Plan_ChangedSlate_IsPlannedOnWithTheFewestChanges()
    {
        await File.WriteAllTextAsync(Path.Combine(adopted.Folder, "more.yaml"), SlateSamples.Brief.Replace("hours_per_day: 2 h", "hours_per_day: 3 h", StringComparison.Ordinal));
        string changed = SlateSamples.TwoProjects.Replace("birch.yaml", "more.yaml", StringComparison.Ordinal).Replace("weeks: 26", "weeks: 26\ntoday: 2027-01-25", StringComparison.Ordinal);
        await File.WriteAllTextAsync(Path.Combine(adopted.Folder, "changed.yaml"), changed);
        (_, string output, string error) = await adopted.Run("plan", "changed.yaml", "--running", Plan, "--draws", $"{Draws}", "--seconds", "0.5", "--json");
        Assert.True(output.Length > 0, error);
        JsonNode[] projects = [.. JsonNode.Parse(output)!["result"]!["projects"]!.AsArray().Select(p => p!)];
        Assert.Empty(projects[0]["stages_that_move"]!.AsArray());
        JsonNode before = JsonNode.Parse(adopted.Text)!["result"]!["projects"]![1]!;
        string[] started = [.. before["stages"]!.AsArray().Where(s => (int)s!["start"]! < 42).Select(s => (string)s!["stage"]!)];
        Assert.NotEmpty(started);
        Assert.DoesNotContain(projects[1]["stages_that_move"]!.AsArray(), s => started.Contains((string)s!));

        // What cannot be followed any more is said, with its place, and does not stop the plan.
        string other = Path.Combine(adopted.Folder, "other.json");
        await File.WriteAllTextAsync(other, Edited("result.projects[1].project", "\"Ash\""));
        (int exitCode, string text, string notes) = await adopted.Run("plan", "slate.yaml", "--running", other, "--draws", $"{Draws}", "--seconds", "0.3");
        Assert.InRange(exitCode, ExitCode.Done, ExitCode.No);
        Assert.Contains("not followed: result.projects[1].project: the slate has no such project; allowed is Alder, Birch", notes, StringComparison.Ordinal);
        Assert.Contains("At another time, or new: Birch: shoot and offload,", text.ReplaceLineEndings(" "), StringComparison.Ordinal);
        Assert.DoesNotContain("Alder: shoot", text.ReplaceLineEndings(" "), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Usage_OfTheAdoptedPlan_CountsWhatItPlanned()
    {
        (int exitCode, string output, string error) = await adopted.Run("usage", "slate.yaml", "--running", Plan);
        Assert.True(exitCode == ExitCode.Done, error);
        string flat = output.ReplaceLineEndings(" ");
        Assert.Contains("Used from 2027-01-04 to 2027-01-10:", flat, StringComparison.Ordinal);
        Assert.Contains("No week of the slate is over by today, 2027-01-04, so this is its first", flat, StringComparison.Ordinal);
        Assert.DoesNotContain("so far, no plan has less than", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Running_OtherDrawsThanThePlans_AreRefused()
    {
        (int exitCode, string output, string error) = await adopted.Run("shock", "slate.yaml", "--project", "Alder", "--what", "slip", "--running", Plan, "--draws", "50");
        Assert.Equal((ExitCode.BadInput, string.Empty), (exitCode, output));
        Assert.Contains("--draws = 50: the plan of --running was made with 40; allowed is that", error, StringComparison.Ordinal);
    }

    // What a user may hand in instead of the plan, or make of it; each with the place and what is allowed there.
    [Theory]
    [InlineData("schema", "\"postpipeline.comparison/1\"", "schema = postpipeline.comparison/1: allowed is postpipeline.slate.plan/1")]
    [InlineData("result", null, "result: it is missing")]
    [InlineData("result.planned", "false", "result.planned = False: no plan was found")]
    [InlineData("result.slate.draws", "3", "result.slate.draws = 3: a whole number from 20 to 100000 is expected")]
    [InlineData("result.slate.starts", "\"2027-01-11\"", "result.slate.starts = 2027-01-11: the slate starts on 2027-01-04: this is the plan of another slate")]
    [InlineData("result.slate.starts", "\"soon\"", "result.slate.starts = soon: a date such as 2027-03-31 is expected")]
    [InlineData("result.slate.weeks", "20", "result.slate.weeks = 20: the slate has 26 weeks")]
    [InlineData("result.slate.level", "\"P90\"", "result.slate.level = P90: the slate is planned at P80")]
    [InlineData("result.slate.shared_sha256", "\"00\"", "result.slate.shared_sha256 = 00: the farm, storage, people")]
    [InlineData("result.rentals", "[{\"resource\": \"suites\", \"from\": \"2027-01-11\", \"until\": \"2027-01-17\", \"units\": 1, \"price\": 300}]", "result.rentals[0].resource = suites: it cannot be rented; allowed is tall")]
    [InlineData("result.rentals", "[{\"resource\": \"tall\", \"from\": \"2027-01-12\", \"until\": \"2027-01-17\", \"units\": 9, \"price\": 300}]", "result.rentals[0].from = 2027-01-12: a rent begins with one of the periods of 7 days")]
    [InlineData("result.rentals", "[{\"resource\": \"tall\", \"from\": \"2027-01-11\", \"until\": \"2027-01-17\", \"units\": 9, \"price\": 300}]", "result.rentals[0].units = 9: a whole number from 1 to 4 is expected")]
    [InlineData("result.projects", "7", "result.projects = 7: a list of at most 100 is expected")]
    [InlineData("result.projects[1]", null, "'Birch' of the slate is missing")]
    [InlineData("result.projects[1].project", "\"Ash\"", "result.projects[1].project = Ash: the slate has no such project; allowed is Alder, Birch")]
    [InlineData("result.projects[1].project", "\"Alder\"", "result.projects[1].project = Alder: the project stands twice")]
    [InlineData("result.projects[0].sha256", "\"00\"", "result.projects[0].sha256 = 00: the work of Alder is not what this plan was made for")]
    [InlineData("result.projects[0].pipeline", "\"native\"", "result.projects[0].pipeline = native: Alder cannot take it; allowed is ")]
    [InlineData("result.projects[0].stages[0]", null, "'shoot and offload' of Alder on")]
    [InlineData("result.projects[0].stages[0].stage", "\"rushes\"", "result.projects[0].stages[0].stage = rushes:")]
    [InlineData("result.projects[0].stages[0].start", "-1", "result.projects[0].stages[0].start = -1: a whole number from 0 to 532 is expected")]
    [InlineData("result.projects[0].stages[0].start", "14.5", "result.projects[0].stages[0].start = 14.5: a whole number from 0 to 532 is expected")]
    [InlineData("result.projects[0].stages[0].end", "60", "result.projects[0].stages[0].end = 60: shoot and offload of Alder on")]
    [InlineData("result.projects[0].stages[0].farm_class", "\"tall\"", "result.projects[0].stages[0].farm_class = tall: shoot and offload is no farm work; null is expected")]
    public void Running_PlanThatDoesNotFit_IsRefusedAtItsPlace(string place, string? value, string says)
    {
        BriefException error = Assert.Throws<BriefException>(() => RunningPlanFile.Read("plan.json", Edited(place, value)).On(adopted.Slate, adopted.Problem));
        Assert.All(error.Problems, p => Assert.Equal("plan.json", p.File));
        Assert.Contains(says, error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Running_NodesThatAStageDoesNotRunOn_AreRefused()
    {
        JsonArray stages = JsonNode.Parse(adopted.Text)!["result"]!["projects"]![0]!["stages"]!.AsArray();
        int farm = stages.ToList().FindIndex(s => s!["farm_class"] is not null);
        BriefException error = Assert.Throws<BriefException>(() => RunningPlanFile.Read("plan.json", Edited($"result.projects[0].stages[{farm}].nodes", "7")).On(adopted.Slate, adopted.Problem));
        Assert.Contains($"stages[{farm}].nodes = 7: {stages[farm]!["stage"]} runs on another number of nodes; allowed is 3, 5, 10, 14", error.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("{\"schema\": \"postpipeline.slate.plan/1\",\n  \"result\": {,}}", 2, 14)]
    [InlineData("project  pipeline\nAlder    proxy", 1, 1)]
    [InlineData("{\"schema\":", 1, 11)]
    public void Running_NoJson_IsRefusedWithLineAndColumn(string text, int line, int column)
    {
        BriefProblem problem = Assert.Single(Assert.Throws<BriefException>(() => RunningPlanFile.Read("plan.json", text)).Problems);
        Assert.Equal(("plan.json", line, column), (problem.File, problem.Line, problem.Column));
        Assert.Contains("what `slate plan --json` prints is expected", problem.Message, StringComparison.Ordinal);
    }

    private string Plan => Path.Combine(adopted.Folder, "plan.json");

    // Everything from Birch's line to the farm.
    [GeneratedRegex(@"  - name: Birch\n(    .*\n)+")]
    private static partial Regex WithoutBirch();

    private string Edited(string place, string? value)
    {
        JsonNode root = JsonNode.Parse(adopted.Text)!;
        string[] steps = place.Replace("[", ".[", StringComparison.Ordinal).Split('.');
        JsonNode at = root;
        foreach (string step in steps[..^1])
        {
            at = step[0] == '[' ? at[int.Parse(step[1..^1], System.Globalization.CultureInfo.InvariantCulture)]! : at[step]!;
        }

        if (steps[^1][0] == '[')
        {
            at.AsArray().RemoveAt(int.Parse(steps[^1][1..^1], System.Globalization.CultureInfo.InvariantCulture));
        }
        else if (value is null)
        {
            at.AsObject().Remove(steps[^1]);
        }
        else
        {
            at[steps[^1]] = JsonNode.Parse(value);
        }

        return root.ToJsonString(new JsonSerializerOptions { WriteIndented = true });
    }
}
