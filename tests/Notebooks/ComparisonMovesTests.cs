using PostPipeline.Notebooks.Charts;
using PostPipeline.Notebooks.Comparisons;
using PostPipeline.Notebooks.Tests.Support;
using PostPipeline.Studies;
using PostPipeline.Studies.Briefs;
using Xunit;

namespace PostPipeline.Notebooks.Tests;

/// <summary>What a person moves on the comparison's page reaches the inputs that it names.</summary>
[Collection(SuiteTests.Name)]
public sealed class ComparisonMovesTests : SuiteTests
{
    [Fact]
    public void Changes_NothingMoved_AreNone() => Assert.Empty(new ComparisonMoves().Changes(Demo.Brief()));

    [Fact]
    public void Changes_EverythingMoved_NameTheirInputs()
    {
        Brief brief = Demo.Brief();
        IReadOnlyList<Change> changes = new ComparisonMoves(120, 50, 3, -2, 2, -5, 80, 0.8).Changes(brief);
        string[] hours = [.. brief.Shoot.Cameras.SelectMany(c => c.Recordings).Select(r => r.HoursPerDay.Key).Distinct()];
        Assert.Equal(
            [.. hours.Select(h => Change.Scale(h, 1.2)), Change.Scale("edit.lock_slip", 0.5), Change.Scale("storage.online.usable", 0.8), Change.Plus("edit.lock", 3), Change.Plus("deliver.due", -2), Change.Fix("farm.nodes.tall", 6), Change.Fix("people.assistants", 1)],
            changes);
    }

    [Theory]
    [InlineData("90 %", 0.9)]
    [InlineData("as the brief", null)]
    [InlineData("0 %", null)]
    [InlineData("100 %", null)]
    public void Sure_Words_BecomeAProbability(string words, double? expected) => Assert.Equal(expected, ComparisonMoves.Sure(words));

    // Not a published value: the direction is what the trade expects. More recorded hours do not lower the peak or advance
    // the date, and a lock that slips longer does not make delivery earlier. P50 promised is missed as often as met.
    [Fact]
    public async Task Compare_MoreMaterialOrMoreSlip_IsNotEarlierAndP50IsNotP90()
    {
        StudyModel model = await ComparisonStudy.PrepareAsync(ComparisonStudy.Brief());
        NumberTable asItIs = ComparisonStudy.Compare(model, new(), 100).Summary;
        NumberTable more = ComparisonStudy.Compare(model, new(MaterialPercent: 150), 100).Summary;
        NumberTable slips = ComparisonStudy.Compare(model, new(LockSlipPercent: 300), 100).Summary;
        NumberTable sure = ComparisonStudy.Compare(model, new(Confidence: 0.5), 100).Summary;
        NumberTable promises = ComparisonStudy.Compare(model, new(), 100).Promises;
        Assert.Equal(3, asItIs.Rows.Count);
        for (int p = 0; p < asItIs.Rows.Count; p++)
        {
            Assert.True((double)more.Rows[p][6]! + (double)more.Rows[p][7]! > (double)asItIs.Rows[p][6]! + (double)asItIs.Rows[p][7]!, "more material fills more");
            Assert.True(string.CompareOrdinal((string)slips.Rows[p][3]!, (string)asItIs.Rows[p][3]!) >= 0, "a longer slip is not earlier");
            Assert.Equal(asItIs.Rows[p][3], sure.Rows[p][3]);
            Assert.True((double)promises.Rows[p][4]! > 0, "P90 lies after P50");
        }

        Assert.NotEqual(asItIs.Rows.Select(r => r[3]), slips.Rows.Select(r => r[3]));
    }
}
