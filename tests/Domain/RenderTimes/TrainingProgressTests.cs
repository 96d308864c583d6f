using PostPipeline.RenderTimes;
using Xunit;

namespace PostPipeline.Domain.Tests.RenderTimes;

/// <summary>A training says how far it is, step by step, and ends soon after somebody gave up.</summary>
public class TrainingProgressTests
{
    [Theory]
    [InlineData(6)]
    [InlineData(12)]
    public void Train_Steps_AreCountedOneByOneToTheLast(int projects)
    {
        List<(int Done, int Of)> figures = [];
        RenderTimeModel told = RenderTimeTrainer.Train(SmallTable.Of(projects), 1, (done, of) => figures.Add((done, of)));
        Assert.Equal(Enumerable.Range(1, figures.Count), figures.Select(f => f.Done));
        Assert.All(figures, f => Assert.InRange(f.Of, f.Done, figures[^1].Done));
        Assert.Equal(figures[^1].Done, figures[^1].Of);
        Assert.Equal(RenderTimeTrainer.Train(SmallTable.Of(projects), 1).Record.Id, told.Record.Id);
    }

    // Folds run side by side: each may end the fit it is in, and no more.
    [Fact]
    public void Train_GivenUpAtTheFirstStep_DoesNotGoOn()
    {
        using CancellationTokenSource source = new();
        int last = 0;
        Assert.ThrowsAny<OperationCanceledException>(() => RenderTimeTrainer.Train(SmallTable.Of(12), 1, (done, _) =>
        {
            last = done;
            source.Cancel();
        }, source.Token));
        Assert.InRange(last, 1, Environment.ProcessorCount);
    }

    [Fact]
    public void Compare_Parts_AreCountedToTheLast()
    {
        BenchmarkTable rows = SmallTable.Of(6);
        RenderTimeModel model = RenderTimeTrainer.Train(rows, 1);
        List<(int Done, int Of)> figures = [];
        ModelComparer.Compare(rows, (model, rows), (model, rows), 3, (done, of) => figures.Add((done, of)));
        Assert.Equal(Enumerable.Range(1, 6).Select(done => (done, 6)), figures);
    }
}
