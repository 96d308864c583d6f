using System.Text;
using PostPipeline.Embedded;
using PostPipeline.Slates.Checking;
using PostPipeline.Slates.Files;
using PostPipeline.Slates.Judging;
using PostPipeline.Slates.Options;
using PostPipeline.Slates.Output;
using PostPipeline.Slates.Planning;
using PostPipeline.Studies.Preparing;
using PostPipeline.Studies.Tests.Slates.Files;
using Xunit;

namespace PostPipeline.Studies.Tests.Slates.Options;

public sealed class SlatePlanTests
{
    // Common practice, no source: 20 nodes × 168 h × 0.85 × 0.95 = 2,713.2 node-hours a week; 5,575 due by week 2 against
    // 5,426.4: short by 148.6; one more node covers it. Here in node-half-days of 12 h.
    [Fact]
    public void FirstBreak_WorkedExample_IsShortByTheSameNodeHours()
    {
        Demand[] demands = [new("Alder", "node", 0, 28, 3000 / 12.0, 21), new("Birch", "node", 0, 28, 2575 / 12.0, 21)];
        double[] Nodes(int nodes) => [.. Enumerable.Repeat(nodes * 0.85 * 0.95, 28)];
        (int from, int until, double inside, double can) = Assert.NotNull(SlateCheck.FirstBreak(demands, Nodes(20)));
        Assert.Equal((0, 28), (from, until));
        Assert.Equal(148.6, (inside - can) * 12, 1e-6);
        Assert.Null(SlateCheck.FirstBreak(demands, Nodes(21)));
    }

    // A single project cannot use more units than it can, however many there are.
    [Fact]
    public void FirstBreak_ProjectThatCannotUseAllNodes_Breaks()
    {
        Demand[] demands = [new("Alder", "node", 0, 2, 5, 2)];
        Assert.Equal((0, 2, 5.0, 4.0), SlateCheck.FirstBreak(demands, [10, 10]));
    }

    [Fact]
    public async Task Plan_SmallSlate_KeepsTheShootAndIsJudgedRepeatably()
    {
        Slate slate = SlateSamples.Read(SlateSamples.TwoProjects);
        string data = Directory.CreateTempSubdirectory("postpipeline-slate-").FullName;
        try
        {
            await using EmbeddedSuite suite = EmbeddedSuite.InFolder(data);
            IReadOnlyList<StudyModel> models = await SlateEvaluation.PrepareAsync(slate, new Preparation(suite.Clients));
            SlateEvaluation evaluation = SlateEvaluation.Of(slate, models, 50);
            Assert.All(evaluation.Projects, p => Assert.NotEmpty(p.Options));
            SlateProblemBuilder builder = new(evaluation);
            SlatePlan plan = Assert.IsType<SlatePlan>(SlatePlanner.Plan(builder.Build(), new() { Seconds = 4, Repeatable = true }).Plan);
            Assert.All(plan.Projects, p => Assert.InRange(p.Stages[0].Start, 14, 17));
            IReadOnlyList<JudgedProject> judged = new PlanSimulation(evaluation, builder, plan).Run();
            Assert.Equal(judged, new PlanSimulation(SlateEvaluation.Of(slate, models, 50, threads: 2), builder, plan).Run());
            Assert.All(judged, j => Assert.True(j.End.P10 <= j.End.P90 && j.OnTime.Share is >= 0 and <= 1));

            string calendar = SlateCalendarFile.Write(plan, builder.Time, TimeProvider.System);
            Assert.Equal(plan.Projects.Sum(p => p.Stages.Count), calendar.Split("BEGIN:VEVENT\r\n").Length - 1);
        }
        finally
        {
            Directory.Delete(data, recursive: true);
        }
    }

    // RFC 5545, 3.1: lines of at most 75 octets without the break; a fold is CRLF and one space, and unfolding gives the line back.
    [Fact]
    public void Fold_LongLineWithWideLetters_KeepsToSeventyFiveOctets()
    {
        string line = "SUMMARY:" + string.Concat(Enumerable.Repeat("é𝄞a", 40));
        string folded = SlateCalendarFile.Fold(line);
        Assert.All(folded.Split("\r\n"), part => Assert.InRange(Encoding.UTF8.GetByteCount(part), 1, 75));
        Assert.Equal(line, folded.Replace("\r\n ", string.Empty, StringComparison.Ordinal));

        // RFC 5545, 3.3.11.
        Assert.Equal("a\\, b\\; c\\\\d\\ne", SlateCalendarFile.Escape("a, b; c\\d\ne"));
    }
}
