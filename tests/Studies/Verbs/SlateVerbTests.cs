using System.Text.Json;
using PostPipeline.Cli.Frame;
using PostPipeline.Studies.Tests.Slates.Files;
using Xunit;

namespace PostPipeline.Studies.Tests.Verbs;

/// <summary>The slate verbs as a user calls them: what they answer, and what they say to what cannot be used.</summary>
public sealed class SlateVerbTests : IClassFixture<SlateVerbTests.Place>
{
    private readonly Place place;

    public SlateVerbTests(Place place) => this.place = place;

    /// <summary>One folder and one data folder for all, so that render times are learned once.</summary>
    public sealed class Place : IDisposable
    {
        public Place()
        {
            Folder = Directory.CreateTempSubdirectory("slate-verbs").FullName;
            foreach (string brief in new[] { "alder.yaml", "birch.yaml" })
            {
                File.WriteAllText(Path.Combine(Folder, brief), SlateSamples.Brief);
            }

            Slate("slate.yaml", SlateSamples.TwoProjects);
        }

        public string Folder { get; }

        public string Slate(string name, string text)
        {
            string path = Path.Combine(Folder, name);
            File.WriteAllText(path, text);
            return path;
        }

        public void Dispose() => Directory.Delete(Folder, recursive: true);
    }

    [Theory]
    [InlineData("--seconds = 0: allowed is 0.1 to 86,400", "plan", "--seconds", "0")]
    [InlineData("--draws = 3: allowed is 20 to 100000", "plan", "--draws", "3")]
    [InlineData("--what = flood: allowed is slip, twice, camera, earlier, nodes", "shock", "--project", "Alder", "--what", "flood")]
    [InlineData("--project = Ash: allowed is Alder, Birch", "shock", "--project", "Ash", "--what", "slip", "--draws", "20")]
    [InlineData("--week = 26: allowed is 0 to 25", "shock", "--project", "Alder", "--what", "slip", "--week", "26", "--draws", "20")]
    [InlineData("--project = Ash: allowed is Alder, Birch", "enquiry", "--project", "Ash", "--draws", "20")]
    [InlineData("Option '--project' is required", "enquiry")]
    public async Task Verb_OptionThatCannotBe_IsNamedWithWhatIsAllowed(string says, string verb, params string[] options)
    {
        (int exitCode, string output, string error) = await Run(["slate", verb, place.Folder + "/slate.yaml", .. options]);
        Assert.NotEqual(ExitCode.Done, exitCode);
        Assert.Empty(output);
        Assert.Contains(says, error.ReplaceLineEndings(" "), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("name: Birch", "name: alder", "two projects are named 'alder'")]
    [InlineData("until: 2027-02-12}", "until: 2027-02-12}\n      - {for: course, from: 2027-02-12, until: 2027-02-19}", "Orla is double-booked")]
    [InlineData("brief: birch.yaml", "brief: birk.yaml", "the file is not there")]
    [InlineData("count: 10", "count: 0", "the farm has no nodes")]
    [InlineData("skills: [assistants]", "skills: [assistants]\n    days_off: [monday, tuesday, wednesday, thursday, friday, saturday, sunday]", "no working day is left")]
    [InlineData("expires: 2027-01-31", "expires: 2027-01-03", "the second-hold has expired")]
    public async Task Check_SlateThatCannotBe_IsRefusedWithItsFileAndPlace(string right, string wrong, string says)
    {
        string path = place.Slate("wrong.yaml", ReplaceFirst(SlateSamples.TwoProjects, right, wrong));
        (int exitCode, string output, string error) = await Run(["slate", "check", path]);
        Assert.Equal(ExitCode.BadInput, exitCode);
        Assert.Empty(output);
        string flat = error.ReplaceLineEndings(" ");
        Assert.Contains("wrong.yaml:", flat, StringComparison.Ordinal);
        Assert.Contains(says, flat, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Plan_SmallSlate_SaysWhyAndWritesTheSamePlanAsTables()
    {
        string tables = Path.Combine(place.Folder, "tables");
        string dates = Path.Combine(place.Folder, "plan.ics");
        (_, string output, string error) = await Run(["slate", "plan", place.Folder + "/slate.yaml", "--draws", "40", "--seconds", "1", "--csv", tables, "--dates", dates, "--json"]);
        using JsonDocument document = JsonDocument.Parse(output);
        JsonElement result = document.RootElement.GetProperty("result");
        Assert.True(result.GetProperty("planned").GetBoolean());
        JsonElement[] projects = [.. result.GetProperty("projects").EnumerateArray()];
        Assert.All(projects, p => Assert.All(p.GetProperty("instead").EnumerateArray(), a => Assert.StartsWith($"with {a.GetProperty("pipeline").GetString()} ", a.GetProperty("reason").GetString(), StringComparison.Ordinal)));
        Assert.Contains(projects, p => p.GetProperty("instead").GetArrayLength() > 0);

        string[] stages = await File.ReadAllLinesAsync(Path.Combine(tables, "stages.csv"));
        Assert.Equal(1 + projects.Sum(p => p.GetProperty("stages").GetArrayLength()), stages.Length);
        string[] lateness = await File.ReadAllLinesAsync(Path.Combine(tables, "lateness.csv"));
        Assert.Equal(["project", "Alder", "Birch"], lateness.Select(l => l.Split(',')[0]));
        Assert.All(projects.Zip(lateness.Skip(1)), p => Assert.Equal(p.First.GetProperty("planned_end").GetString(), p.Second.Split(',')[2]));
        string[][] days = [.. (await File.ReadAllLinesAsync(Path.Combine(tables, "days.csv"))).Skip(1).Select(l => l.Split(','))];
        Assert.Equal(["nearline storage", "nodes: tall", "online storage"], days.Select(d => d[1]).Distinct().Order(StringComparer.Ordinal));

        // No day of the plan takes more than there is.
        Assert.All(days.GroupBy(d => (d[0], d[1])), g => Assert.True(g.Sum(d => Number(d[4])) <= Number(g.First()[5]) + 1e-9, string.Join(' ', g.First())));
        Assert.Contains("BEGIN:VCALENDAR", await File.ReadAllTextAsync(dates), StringComparison.Ordinal);
        Assert.Contains("so far, no plan has less than", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Shock_ShootSlips_MovesItsProject()
    {
        (_, string output, _) = await Run(["slate", "shock", place.Folder + "/slate.yaml", "--project", "Alder", "--what", "slip", "--week", "0", "--draws", "40", "--seconds", "1", "--json"]);
        using JsonDocument document = JsonDocument.Parse(output);
        JsonElement[] projects = [.. document.RootElement.GetProperty("result").GetProperty("projects").EnumerateArray()];
        Assert.Equal(["Alder", "Birch"], projects.Select(p => p.GetProperty("project").GetString()));
        Assert.True(projects[0].GetProperty("stages_that_move").GetArrayLength() > 0);
        Assert.True(string.CompareOrdinal(projects[0].GetProperty("end_after").GetString(), projects[0].GetProperty("end_before").GetString()) > 0, output);
    }

    [Fact]
    public async Task Enquiry_HouseWithRoomToSpare_CanBeTakenForNothing()
    {
        (int exitCode, string output, _) = await Run(["slate", "enquiry", place.Folder + "/slate.yaml", "--project", "Birch", "--draws", "40", "--seconds", "1", "--json"]);
        using JsonDocument document = JsonDocument.Parse(output);
        JsonElement result = document.RootElement.GetProperty("result");
        Assert.Equal((ExitCode.Done, "yes", 0), (exitCode, result.GetProperty("verdict").GetString(), result.GetProperty("price").GetInt64()));
        Assert.Empty(result.GetProperty("dates").EnumerateArray());
    }

    private static double Number(string text) => double.Parse(text, System.Globalization.CultureInfo.InvariantCulture);

    private static string ReplaceFirst(string text, string right, string wrong)
    {
        int at = text.IndexOf(right, StringComparison.Ordinal);
        return string.Concat(text.AsSpan(0, at), wrong, text.AsSpan(at + right.Length));
    }

    private async Task<(int ExitCode, string Output, string Error)> Run(string[] arguments)
    {
        using StringWriter output = new();
        using StringWriter error = new();
        int exitCode = await CommandLine.RunAsync([.. arguments, "--data", Path.Combine(place.Folder, "data")], output, error, CancellationToken.None);
        return (exitCode, output.ToString(), error.ToString());
    }
}
