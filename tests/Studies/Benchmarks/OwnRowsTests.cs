using System.Globalization;
using PostPipeline.Embedded;
using PostPipeline.Quantities;
using PostPipeline.Studies.Benchmarks;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Preparing;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Studies.Tests.Benchmarks;

/// <summary>A brief that names a file of one's own rows: what it rests on, and what it still does not.</summary>
public sealed class OwnRowsTests : IDisposable
{
    private const string Slower = "own.csv";

    private readonly string folder = Directory.CreateTempSubdirectory("postpipeline-own").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    // Own rows: those of the demonstration, two and a half times as slow, and no masters among them.
    [Fact]
    public async Task Prepare_BriefNamesItsRows_JobsAreMeasuredWhereTheRowsAnswer()
    {
        await File.WriteAllTextAsync(Path.Combine(folder, Slower), Rows(2.5, output => output != "master"));
        Brief brief = BriefReader.ReadFile(BriefWith(Slower));
        await using EmbeddedSuite suite = EmbeddedSuite.InFolder(Path.Combine(folder, "data"));
        PreparedStudy own = await new Preparation(suite.Clients).PrepareAsync(brief);
        PreparedStudy invented = await new Preparation(suite.Clients).PrepareAsync(brief with { Farm = brief.Farm with { Benchmarks = string.Empty } });
        Assert.False(own.Model.Invented);
        Assert.Contains(Slower, own.Model.Source, StringComparison.Ordinal);
        Assert.True(invented.Model.Invented);
        Assert.All(invented.Jobs, j => Assert.True(j.Invented));
        foreach (JobFacts job in own.Jobs)
        {
            JobFacts before = invented.Job(job.Kind, job.Mode);
            bool render = job.Kind.StartsWith("render", StringComparison.Ordinal);
            Assert.Equal(render, job.Invented);
            if (render)
            {
                Assert.Equal(before.SecondsPerFrame, job.SecondsPerFrame);
                Assert.Matches(@"^not answered by own\.csv \(features\[(noise_reduction|output_coding)\]: .(temporal|master). was never measured", job.Notes[0]);
            }
            else
            {
                Assert.InRange(job.SecondsPerFrame / before.SecondsPerFrame, 2.1, 2.9);
            }
        }

        StudyModel model = new(own);
        Comparison comparison = Compare.Run(model, 40, 1);
        Assert.Contains(comparison.Pipelines.SelectMany(p => p.Findings), f => f.ToString().Contains("your own rows do not answer render-originals", StringComparison.Ordinal));
    }

    [Fact]
    public void Read_BriefNamesAFileThatIsNotThere_IsAProblemOfThatKey()
    {
        BriefProblem problem = Assert.Single(Assert.Throws<BriefException>(() => BriefReader.ReadFile(BriefWith("nowhere.csv"))).Problems);
        Assert.Equal(("farm.benchmarks", "nowhere.csv"), (problem.Key, problem.Value));
        Assert.True(problem.Line > 0);
    }

    [Theory]
    [InlineData("project,cores\na,2\n", 1, "seconds_per_frame", "the column is not there")]
    [InlineData("project,seconds_per_frame,weather\na,2,rain\n", 1, "columns", "none of the features is there")]
    [InlineData("project,seconds_per_frame,cores\na,2\n", 2, "", "the row has 2 cells")]
    [InlineData("project,seconds_per_frame,cores\n", 0, "", "allowed is 1 to")]
    [InlineData("project,seconds_per_frame,cores\n\"a,2,3\n", 2, "", "not closed")]
    public void Read_WrongRows_SayWhereAndWhatIsAllowed(string text, long line, string key, string message)
    {
        string path = Path.Combine(folder, "wrong.csv");
        File.WriteAllText(path, text);
        BriefProblem problem = Assert.Single(Assert.Throws<BriefException>(() => BenchmarkFile.Read(path)).Problems);
        Assert.Equal((path, line, key), (problem.File, problem.Line, problem.Key));
        Assert.Contains(message, problem.Message, StringComparison.Ordinal);
    }

    // Two projects are too few to try a model on one that it has not seen: said, not guessed around.
    [Fact]
    public async Task Prepare_TooFewProjects_IsRefusedWithTheReason()
    {
        await File.WriteAllTextAsync(Path.Combine(folder, Slower), Rows(1, _ => true, "Saltmarsh", "Winterfold"));
        Brief brief = BriefReader.ReadFile(BriefWith(Slower));
        await using EmbeddedSuite suite = EmbeddedSuite.InFolder(Path.Combine(folder, "data"));
        BriefException refused = await Assert.ThrowsAsync<BriefException>(() => new Preparation(suite.Clients).PrepareAsync(brief));
        Assert.Contains("own.csv", refused.Message, StringComparison.Ordinal);
        Assert.Contains("at least 3 are needed", refused.Message, StringComparison.Ordinal);
    }

    private static string Rows(double factor, Func<string, bool> wanted, params string[] projects)
    {
        string[] columns = [.. InventedBenchmarks.Header().Columns];
        (int seconds, int output, int project) = (Array.IndexOf(columns, "seconds_per_frame"), Array.IndexOf(columns, "output_coding"), Array.IndexOf(columns, "project"));
        return string.Join('\n', [string.Join(',', columns), .. InventedBenchmarks.Rows()
            .Where(r => wanted(r[output]) && (projects.Length == 0 || projects.Contains(r[project])))
            .Select(r => string.Join(',', r.SetItem(seconds, (factor * double.Parse(r[seconds], CultureInfo.InvariantCulture)).ToString(CultureInfo.InvariantCulture))))]) + "\n";
    }

    private string BriefWith(string benchmarks)
    {
        string text = File.ReadAllText(Path.Combine(Outside.Root, "notebooks", "demo", "brief.yaml"));
        string path = Path.Combine(folder, "brief.yaml");
        File.WriteAllText(path, text.Replace("  noise_reduction: 1\n", $"  noise_reduction: 1\n  replications: 20\n  benchmarks: {benchmarks}\n", StringComparison.Ordinal));
        return path;
    }
}
