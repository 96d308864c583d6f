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
    [InlineData("--what = flood: allowed is slip, twice, camera, effects, earlier, nodes", "shock", "--project", "Alder", "--what", "flood")]
    [InlineData("--project = Ash: allowed is Alder, Birch", "shock", "--project", "Ash", "--what", "slip", "--draws", "20")]
    [InlineData("--week = 26: allowed is 0 to 25", "shock", "--project", "Alder", "--what", "slip", "--week", "26", "--draws", "20")]
    [InlineData("--project = Ash: allowed is Alder, Birch", "enquiry", "--project", "Ash", "--draws", "20")]
    [InlineData("Option '--project' is required", "enquiry")]
    [InlineData("--what = effects: the brief of Alder has no effects, so they cannot grow", "shock", "--project", "Alder", "--what", "effects", "--draws", "20")]
    [InlineData("--factor = 2: only --what effects has a factor", "shock", "--project", "Alder", "--what", "twice", "--factor", "2")]
    [InlineData("--factor = 50: allowed is 1.01 to 20", "shock", "--project", "Alder", "--what", "effects", "--factor", "50")]
    [InlineData("--share = speed=2: expected is AIM=SHARE with a share from 0.001 to 1,000 and one of lateness, first-hold-lateness, second-hold-lateness, extras, money", "plan", "--share", "speed=2", "--draws", "20")]
    [InlineData("--share = money=0: expected is AIM=SHARE", "plan", "--share", "money=0", "--draws", "20")]
    [InlineData("--share = money=3: the share of money is given twice", "plan", "--share", "money=2", "--share", "money=3", "--draws", "20")]
    [InlineData("--week = 4: the second-hold of Birch expires on 2027-01-31, before it is known", "shock", "--project", "Alder", "--what", "slip", "--week", "4")]
    [InlineData("nowhere.json: the file is not there", "shock", "--project", "Alder", "--what", "slip", "--running", "nowhere.json")]
    [InlineData("nowhere.json: the file is not there", "enquiry", "--project", "Birch", "--running", "nowhere.json")]
    [InlineData("--week-of = 2028-01-04: this week lies outside the slate; type --week-of with a day from 2027-01-04 to 2027-09-26", "usage", "--week-of", "2028-01-04")]
    [InlineData("--week-of = soon: a date such as 2027-03-31 is expected", "usage", "--week-of", "soon")]
    [InlineData("--log = Ash=a.csv: no project is named 'Ash'; allowed is Alder, Birch", "usage", "--week-of", "2027-01-11", "--log", "Ash=a.csv")]
    [InlineData("--log = a.csv: expected is PROJECT=CSV", "usage", "--week-of", "2027-01-11", "--log", "a.csv")]
    [InlineData("nowhere.csv: the file is not there", "usage", "--week-of", "2027-01-11", "--log", "Alder=nowhere.csv")]
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

    // Five days of one camera at 2 h fit a hundred terabytes and not one; a break is a no.
    [Theory]
    [InlineData("100 TB", ExitCode.Done)]
    [InlineData("1 TB", ExitCode.No)]
    public async Task Check_OnlineStorage_FitsOrIsNamedAsWhatBreaks(string capacity, int code)
    {
        string path = place.Slate("sized.yaml", ReplaceFirst(SlateSamples.TwoProjects, "100 TB", capacity));
        (int exitCode, string output, _) = await Run(["slate", "check", path, "--draws", "30", "--json"]);
        using JsonDocument document = JsonDocument.Parse(output);
        JsonElement[] breaks = [.. document.RootElement.GetProperty("result").GetProperty("breaks").EnumerateArray()];
        Assert.Equal(code, exitCode);
        Assert.Equal(code == ExitCode.No, breaks.Any(b => b.GetProperty("resource").GetString() == "online" && b.GetProperty("projects").GetArrayLength() > 0));
    }

    // The brief of one project has the factor at one weight, the brief of the other at another.
    [Fact]
    public async Task Check_FactorWithTwoWeights_IsRefusedAtItsPlace()
    {
        string With(string weight) => SlateSamples.Brief + $"finish:\n  sync: {{low: 0.3, likely: 0.4, high: 0.6, factor: {{name: pace, weight: {weight}}}}}\n";
        place.Slate("heavy.yaml", With("0.9"));
        place.Slate("light.yaml", With("0.5"));
        string path = place.Slate("wrong.yaml", SlateSamples.TwoProjects.Replace("alder.yaml", "heavy.yaml", StringComparison.Ordinal).Replace("birch.yaml", "light.yaml", StringComparison.Ordinal));
        (int exitCode, string output, string error) = await Run(["slate", "check", path]);
        Assert.Equal((ExitCode.BadInput, string.Empty), (exitCode, output));
        Assert.Contains("wrong.yaml:", error, StringComparison.Ordinal);
        Assert.Contains("the factor 'pace' has the weight 0.5", error.ReplaceLineEndings(" "), StringComparison.Ordinal);
        Assert.Contains("one factor has one weight on a slate", error.ReplaceLineEndings(" "), StringComparison.Ordinal);
    }

    // 36,000 and 7,200 node-seconds are 12 node-hours; 1 TB from Monday and 2 TB more from Tuesday on are 1 + 6 × 3 = 19
    // TB-days of originals: the shoot is over by the log's last day, so the days after it are known too.
    [Fact]
    public async Task Usage_WeekWithALog_IsMeasuredWhereItWasLoggedAndPlannedElsewhere()
    {
        string log = place.Slate("alder.csv", "date,unit,bytes,farm_frames,farm_seconds\n2027-01-11,main,1 TB,1000,36000\n2027-01-12,main,2 TB,,\n2027-01-15,main,0,200,7200\n");
        string tables = Path.Combine(place.Folder, "usage");
        (int exitCode, string output, _) = await Run(["slate", "usage", place.Folder + "/slate.yaml", "--week-of", "2027-01-13", "--log", $"Alder={log}", "--csv", tables, "--draws", "40", "--seconds", "1", "--json"]);
        Assert.Equal(ExitCode.Done, exitCode);
        using JsonDocument document = JsonDocument.Parse(output);
        JsonElement result = document.RootElement.GetProperty("result");
        Assert.Equal(("2027-01-11", "2027-01-17"), (result.GetProperty("from").GetString(), result.GetProperty("until").GetString()));
        JsonElement[] used = [.. result.GetProperty("used").EnumerateArray()];
        double Measured(string project, string unit) => used.Where(u => u.GetProperty("project").GetString() == project && u.GetProperty("unit").GetString() == unit && u.GetProperty("source").GetString() == "measured").Sum(u => u.GetProperty("amount").GetDouble());
        Assert.Equal((12, 19), (Measured("Alder", "node-hours"), Measured("Alder", "TB-days")));
        Assert.Equal((0, 0), (Measured("Birch", "node-hours"), Measured("Birch", "TB-days")));
        Assert.Contains(used, u => u.GetProperty("project").GetString() == "Birch" && u.GetProperty("unit").GetString() == "TB-days" && u.GetProperty("source").GetString() == "planned");
        Assert.Contains(used, u => u.GetProperty("unit").GetString() == "person-hours" && u.GetProperty("source").GetString() == "planned");

        // Three people, 9 h from 09:00 to 18:00, five working days: 135 person-hours.
        JsonElement people = result.GetProperty("there_was").EnumerateArray().Single(s => s.GetProperty("unit").GetString() == "person-hours");
        Assert.Equal(135, people.GetProperty("amount").GetDouble());
        string[] rows = await File.ReadAllLinesAsync(Path.Combine(tables, "usage.csv"));
        Assert.Equal("from,until,project,unit,of,source,amount,days", rows[0]);
        Assert.Equal(used.Length, rows.Length - 1);
        Assert.Contains("2027-01-11,2027-01-17,Alder,node-hours,farm,measured,12,2", rows);
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

    // Effects in the brief of one project only: its versions move, and what the other does is told beside it.
    [Fact]
    public async Task Shock_EffectsGrow_MovesItsProject()
    {
        string brief = place.Slate("effects.yaml", SlateSamples.Brief + "effects:\n  shots: 40\n  length: 4 s\n  versions: 3\n  version: 4 d\n");
        string path = place.Slate("effects-slate.yaml", SlateSamples.TwoProjects.Replace("alder.yaml", Path.GetFileName(brief), StringComparison.Ordinal));
        (_, string output, _) = await Run(["slate", "shock", path, "--project", "Alder", "--what", "effects", "--factor", "3", "--week", "1", "--draws", "40", "--seconds", "0.6", "--json"]);
        using JsonDocument document = JsonDocument.Parse(output);
        JsonElement[] projects = [.. document.RootElement.GetProperty("result").GetProperty("projects").EnumerateArray()];
        Assert.True(string.CompareOrdinal(projects[0].GetProperty("end_after").GetString(), projects[0].GetProperty("end_before").GetString()) > 0, output);
        Assert.DoesNotContain(projects[0].GetProperty("stages_that_move").EnumerateArray(), s => s.GetString() is "shoot and offload" or "edit to lock");
        Assert.Equal(projects[1].GetProperty("end_before").GetString(), projects[1].GetProperty("end_after").GetString());
    }

    // Whatever happens, the answer has every project, none ends before it would have without, and what breaks is named.
    [Theory]
    [InlineData("twice")]
    [InlineData("camera")]
    [InlineData("earlier")]
    [InlineData("nodes")]
    public async Task Shock_OfEveryKind_IsPlannedAround(string what)
    {
        (int exitCode, string output, _) = await Run(["slate", "shock", place.Folder + "/slate.yaml", "--project", "Alder", "--what", what, "--week", "1", "--draws", "30", "--seconds", "0.5", "--json"]);
        using JsonDocument document = JsonDocument.Parse(output);
        JsonElement result = document.RootElement.GetProperty("result");
        Assert.True(result.GetProperty("planned").GetBoolean(), output);
        Assert.Empty(result.GetProperty("breaks").EnumerateArray());
        JsonElement[] projects = [.. result.GetProperty("projects").EnumerateArray()];
        Assert.Equal(["Alder", "Birch"], projects.Select(p => p.GetProperty("project").GetString()));
        bool late = projects.Any(p => p.GetProperty("late_half_days_after").GetInt32() > p.GetProperty("late_half_days_before").GetInt32());
        Assert.Equal(late ? ExitCode.No : ExitCode.Done, exitCode);
        Assert.DoesNotContain(projects.SelectMany(p => p.GetProperty("stages_that_move").EnumerateArray()), s => s.GetString() == "shoot and offload");
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
        (int exitCode, string output, _) = await Run(["slate", "enquiry", place.Folder + "/slate.yaml", "--project", "Birch", "--draws", "40", "--seconds", "0.2", "--json"]);
        using JsonDocument document = JsonDocument.Parse(output);
        JsonElement result = document.RootElement.GetProperty("result");
        Assert.Equal((ExitCode.Done, "yes", 0), (exitCode, result.GetProperty("verdict").GetString(), result.GetProperty("price").GetInt64()));
        Assert.Empty(result.GetProperty("dates").EnumerateArray());

        // With room to spare no unknown of its brief can turn the answer; those that move work were planned with all the same.
        Assert.All(result.GetProperty("ask_first").EnumerateArray(), a => Assert.All(new[] { "low", "high" }, end => Assert.Equal("yes", a.GetProperty(end).GetProperty("verdict").GetString())));
        JsonElement unknowns = result.GetProperty("unknowns");
        int Number(string name) => unknowns.GetProperty(name).GetInt32();
        Assert.InRange(Number("planned_with"), 1, 12);
        Assert.True(Number("planned_with") <= Number("moving") && Number("moving") <= Number("uncertain"), unknowns.ToString());
    }

    // Due at the end of the edit's P90 plus little: how long the editor takes decides whether the date is kept.
    [Fact]
    public async Task Enquiry_DateThatHangsOnTheEdit_SaysWhomToAskFirst()
    {
        string slate = SlateSamples.TwoProjects.Replace("due: 2027-04-09", "due: 2027-03-18", StringComparison.Ordinal);
        string brief = place.Slate("tight.yaml", SlateSamples.Brief.Replace("high: 30 d}", "high: 75 d, from: the cutting room}", StringComparison.Ordinal));
        string path = place.Slate("tight-slate.yaml", slate.Replace("birch.yaml", Path.GetFileName(brief), StringComparison.Ordinal));
        (_, string output, _) = await Run(["slate", "enquiry", path, "--project", "Birch", "--draws", "40", "--seconds", "0.2", "--json"]);
        using JsonDocument document = JsonDocument.Parse(output);
        JsonElement first = document.RootElement.GetProperty("result").GetProperty("ask_first").EnumerateArray().First();
        Assert.Equal(("edit.after_material", "the cutting room"), (first.GetProperty("input").GetString(), first.GetProperty("who_knows").GetString()));
        Assert.Equal("only if dates give way", first.GetProperty("high").GetProperty("verdict").GetString());
        Assert.Equal(["Birch"], first.GetProperty("high").GetProperty("gives_way").EnumerateArray().Select(g => g.GetString()));
        Assert.True(first.GetProperty("low").GetProperty("late_half_days").GetInt32() < first.GetProperty("high").GetProperty("late_half_days").GetInt32(), output);
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
