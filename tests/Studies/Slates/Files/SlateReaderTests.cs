using NodaTime;
using PostPipeline.Slates.Files;
using PostPipeline.Studies.Briefs;
using Xunit;

namespace PostPipeline.Studies.Tests.Slates.Files;

public sealed class SlateReaderTests
{
    [Fact]
    public void Read_SmallSlate_TakesDatesFromTheBriefs()
    {
        Slate slate = SlateSamples.Read(SlateSamples.TwoProjects);
        Assert.Equal(["Alder", "Birch"], slate.Projects.Select(p => p.Name));
        SlateEntry alder = slate.Projects[0];
        Assert.Equal((new LocalDate(2027, 1, 11), new LocalDate(2027, 4, 2), true), (alder.Release, alder.Due, alder.IsFirm));
        Assert.Equal(alder.Release, alder.Brief.Shoot.Starts);
        SlateEntry birch = slate.Projects[1];
        Assert.Equal((3, "second-hold", new LocalDate(2027, 1, 31)), (birch.Priority, birch.Standing, birch.Expires));
        Assert.Equal(["transcode", "proxy"], birch.Pipelines);
        Assert.Equal(new LocalDate(2027, 4, 9), birch.Brief.Deliver.Due);
        Assert.Equal(10, slate.Farm.Nodes.Sum(n => n.Count));
        Assert.Equal(2, slate.With("assistants").Count());
        Assert.Equal(new LocalDate(2027, 1, 4), slate.Today);
    }

    // What a user writes wrong, and what they are told: line and column of the value, the key, and what is allowed.
    [Theory]
    [InlineData("name: Birch", "name: alder", "projects[1].name", "two projects are named 'alder'")]
    [InlineData("until: 2027-02-12}", "until: 2027-02-12}\n      - {for: course, from: 2027-02-12, until: 2027-02-19}", "people[0].booked[1].from", "Orla is double-booked: 'leave' from 2027-02-08 to 2027-02-12 and 'course' from 2027-02-12")]
    [InlineData("brief: birch.yaml", "brief: birk.yaml", "projects[1].brief", "the brief cannot be used: the file is not there")]
    [InlineData("count: 10", "count: 0", "farm.nodes", "the farm has no nodes")]
    [InlineData("skills: [assistants]", "skills: [assistants]\n    days_off: [monday, tuesday, wednesday, thursday, friday, saturday, sunday]", "people[0].days_off", "no working day is left in the week")]
    [InlineData("{for: leave, from: 2027-02-08, until: 2027-02-12}", "{for: leave, from: 2027-01-01, until: 2027-12-31}", "people[0].booked", "no working day is left between 2027-01-04 and 2027-07-04")]
    [InlineData("expires: 2027-01-31", "expires: 2027-01-03", "projects[1].expires", "the second-hold has expired: today is 2027-01-04")]
    [InlineData("    expires: 2027-01-31\n", "", "projects[1].expires", "a second-hold must say when it expires")]
    [InlineData("priority: 3", "priority: 300", "projects[1].priority", "a whole number from 1 to 100 is expected")]
    [InlineData("due: 2027-04-09", "due: 2028-04-09", "projects[1].due", "the slate plans from 2027-01-04 to 2027-07-04")]
    [InlineData("due: 2027-04-09", "due: 2027-01-05", "projects[1].due", "its material comes on 2027-01-11, after it is due on 2027-01-05")]
    [InlineData("adds: tall", "adds: taller", "extras[0].adds", "allowed is tall, assistants")]
    [InlineData("what: farm", "what: fram", "maintenance[0].what", "allowed is farm")]
    [InlineData("  - name: Orla", "  - name: Orla\n    nmae: x", "people[0].nmae", "did you mean 'name'?")]
    public void Read_OneMistake_IsTheOneProblemWithItsPlace(string right, string wrong, string key, string says)
    {
        BriefException error = Assert.Throws<BriefException>(() => SlateSamples.Read(SlateSamples.TwoProjects.Replace(right, wrong, StringComparison.Ordinal)));
        BriefProblem problem = Assert.Single(error.Problems);
        Assert.Equal(("slate.yaml", key), (problem.File, problem.Key));
        Assert.Contains(says, problem.Message, StringComparison.Ordinal);
        Assert.True(problem is { Line: > 0, Column: > 0 });
    }

    [Fact]
    public void Read_ManyMistakesInManyFiles_AllAreToldAtOnce()
    {
        string text = SlateSamples.TwoProjects.Replace("name: Birch", "name: Alder", StringComparison.Ordinal).Replace("count: 10", "count: 0", StringComparison.Ordinal);
        BriefException error = Assert.Throws<BriefException>(() => SlateSamples.Read(text, SlateSamples.Brief.Replace("days: 5", "days: 500", StringComparison.Ordinal)));
        Assert.Equal(["projects[1].name", "farm.nodes", "shoot.days", "shoot.days"], error.Problems.Select(p => p.Key));
        Assert.Equal(["slate.yaml", "slate.yaml", "alder.yaml", "birch.yaml"], error.Problems.Select(p => p.File));
    }

    [Fact]
    public void Read_FactorWithTwoWeightsInOneBrief_IsToldAtItsLine()
    {
        string brief = SlateSamples.Brief + "finish:\n  sync: {low: 0.3, likely: 0.4, high: 0.6, factor: {name: pace, weight: 0.5}}\n  grade: {low: 10 h, likely: 14 h, high: 20 h, factor: {name: pace, weight: 0.9}}\n";
        BriefException error = Assert.Throws<BriefException>(() => SlateSamples.Read(SlateSamples.TwoProjects, brief));
        Assert.All(error.Problems, p => Assert.Contains("the factor 'pace' has the weight 0.5 at finish.sync; one factor has one weight", p.Message, StringComparison.Ordinal));
        Assert.Equal(["alder.yaml", "birch.yaml"], error.Problems.Select(p => p.File));
    }

    [Fact]
    public void Read_FactorWithAnotherWeightInAnotherBrief_IsTold()
    {
        string With(string weight) => SlateSamples.Brief + $"finish:\n  sync: {{low: 0.3, likely: 0.4, high: 0.6, factor: {{name: pace, weight: {weight}}}}}\n";
        BriefException error = Assert.Throws<BriefException>(() => SlateReader.Read(
            "slate.yaml", SlateSamples.TwoProjects, path => (path, () => With(path == "alder.yaml" ? "0.5" : "0.9"))));
        BriefProblem problem = Assert.Single(error.Problems);
        Assert.Equal("projects[1].brief", problem.Key);
        Assert.Contains("one factor has one weight on a slate", problem.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void ReadFile_EmptyOrMissing_SaysSo()
    {
        Assert.Contains("a slate starts with 'slate: 1'", Assert.Throws<BriefException>(() => SlateSamples.Read("# nothing\n")).Message, StringComparison.Ordinal);
        Assert.Contains("the file is not there", Assert.Throws<BriefException>(() => SlateReader.ReadFile("/nowhere/slate.yaml")).Message, StringComparison.Ordinal);
    }
}
