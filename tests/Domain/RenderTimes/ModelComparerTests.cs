using PostPipeline.RenderTimes;
using Xunit;

namespace PostPipeline.Domain.Tests.RenderTimes;

/// <summary>Derived examples: which of two models errs less is known from how the rows were made.</summary>
public class ModelComparerTests
{
    // The first was learned before masters became half as slow again; the rows are from after that.
    [Fact]
    public void Compare_OldModelOnNewRows_NewModelIsBetter()
    {
        BenchmarkTable before = SmallTable.Of(projects: 12);
        BenchmarkTable after = SmallTable.Of(projects: 12, first: 100, slower: 1.5);
        BenchmarkTable rows = SmallTable.Of(projects: 8, first: 200, slower: 1.5);
        ModelComparison comparison = ModelComparer.Compare(rows, (RenderTimeTrainer.Train(before, 1), before), (RenderTimeTrainer.Train(after, 1), after), 3);
        Assert.Equal(BetterModel.Second, comparison.Better);
        Assert.Equal((64, 8, 0, 0), (comparison.Rows, comparison.Families, comparison.FamiliesHeldOut, comparison.RowsLeftOut));

        // Half of the rows are masters, of which the old model predicts a third too little: 1/2 · (1 − 1/1.5) = 16.7 points more.
        Assert.InRange(comparison.DifferencePercent, -20, -8);
        Assert.True(comparison.DifferenceLow < comparison.DifferencePercent && comparison.DifferencePercent < comparison.DifferenceHigh);
        Assert.True(comparison.Second.HeldOut.BiasPercent > comparison.First.HeldOut.BiasPercent);
        Assert.InRange(comparison.Second.BandCoverage!.Value, 0.6, 1);
    }

    // Asked about its own rows, a model that had seen them would look far better than it is: projects differ by a third, and a
    // model that knows them would not be that far off.
    [Fact]
    public void Compare_OnTheRowsTheyLearnedFrom_BothAreLearnedAgainWithoutThem()
    {
        BenchmarkTable rows = SmallTable.Of(projects: 15, shared: 0.35, noise: 0.01);
        RenderTimeModel model = RenderTimeTrainer.Train(rows, 1);
        ModelComparison comparison = ModelComparer.Compare(rows, (model, rows), (model, rows), 3);
        Assert.Equal(BetterModel.Undecided, comparison.Better);
        Assert.Equal(0, comparison.DifferencePercent);
        Assert.Equal(15, comparison.FamiliesHeldOut);
        Assert.InRange(comparison.First.HeldOut.MeanPercent, 0.6 * model.Record.HeldOut.MeanPercent, 1.6 * model.Record.HeldOut.MeanPercent);
        Assert.True(comparison.First.HeldOut.MeanPercent > 15);
    }

    // Models need not share their columns: each is asked with the features that it has.
    [Fact]
    public void Compare_OneModelLacksAColumn_TheOtherIsBetter()
    {
        BenchmarkTable full = SmallTable.Of(projects: 12, slower: 0.4);
        BenchmarkTable blind = SmallTable.Of(projects: 12, slower: 0.4, withCoding: false);
        BenchmarkTable rows = SmallTable.Of(projects: 6, first: 300, slower: 0.4);
        ModelComparison comparison = ModelComparer.Compare(rows, (RenderTimeTrainer.Train(full, 1), full), (RenderTimeTrainer.Train(blind, 1), blind), 3);
        Assert.Equal(BetterModel.First, comparison.Better);
        Assert.True(comparison.DifferenceLow > 10);
    }

    // A row that one model cannot answer is left out of both, and said so: it is never a quiet number.
    [Fact]
    public void Compare_RowsThatOneModelCannotAnswer_AreLeftOutWithTheReason()
    {
        BenchmarkTable both = SmallTable.Of(projects: 10);
        BenchmarkTable proxiesOnly = both.Take([.. Enumerable.Range(0, both.Count).Where(r => r % 2 == 0)]);
        BenchmarkTable learned = Rebuilt(proxiesOnly);
        BenchmarkTable rows = SmallTable.Of(projects: 4, first: 50);
        (RenderTimeModel, BenchmarkTable) one = (RenderTimeTrainer.Train(both, 1), both);
        (RenderTimeModel, BenchmarkTable) other = (RenderTimeTrainer.Train(learned, 1), learned);
        ModelComparison comparison = ModelComparer.Compare(rows, one, other, 3);
        Assert.Equal((16, 16), (comparison.Rows, comparison.RowsLeftOut));
        Assert.Contains("'master' was never measured", comparison.LeftOutBecause, StringComparison.Ordinal);
        Assert.Throws<TrainingRefusedException>(() => ModelComparer.Compare(rows.Take([.. Enumerable.Range(0, rows.Count).Where(r => r % 2 == 1)]), one, other, 3));
    }

    // The same cells as a table of their own, so that the categories that are gone are not levels any more.
    private static BenchmarkTable Rebuilt(BenchmarkTable table)
    {
        BenchmarkTableBuilder builder = new(table.Schema, table.Invented);
        for (int row = 0; row < table.Count; row++)
        {
            Assert.True(builder.Add(
            [
                table.Families[table.Family[row]],
                table.Categories[0].Levels[table.Categories[0].Codes[row]],
                table.Numbers[0][row].ToString("R", System.Globalization.CultureInfo.InvariantCulture),
                table.SecondsPerFrame[row].ToString("R", System.Globalization.CultureInfo.InvariantCulture),
            ]));
        }

        return builder.Build();
    }
}
