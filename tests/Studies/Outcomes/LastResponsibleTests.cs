using PostPipeline.Studies.Inputs;
using PostPipeline.Studies.Outcomes;
using Xunit;

namespace PostPipeline.Studies.Tests.Outcomes;

/// <summary>
/// The last responsible dates, held against evaluations of their own: on the day that is named the date is still kept
/// with the confidence asked for, a day later it is not, and every day before it is kept too.
/// </summary>
public sealed class LastResponsibleTests
{
    private const int Draws = 200;

    private static readonly StudyModel Model = new(StudyFixtures.Prepared(StudyFixtures.ThreeCameras + "\npipelines: [native, transcode, proxy]\n", secondsPerFrame: 0.6));

    private static readonly Comparison Answer = Compare.Run(Model, Draws);

    public static TheoryData<string> Pipelines => [.. Model.Pipelines];

    private static double OnTime(string pipeline, Change change)
    {
        Evaluation evaluation = Model.Evaluate(DrawSet.Sample(Model.Inputs, Draws, Model.Study.Brief.Seed), [change]);
        double[] delivered = evaluation.Pipelines.Single(p => p.Name == pipeline).Delivered;
        return delivered.Count(d => d <= Model.Due) / (double)delivered.Length;
    }

    [Theory]
    [MemberData(nameof(Pipelines))]
    public void ShootStart_ThatDayKeepsTheDate_ADayLaterDoesNot(string pipeline)
    {
        int days = Answer.Of(pipeline).LatestShootStartDays!.Value;
        Assert.InRange(days, 1, 398);
        for (int later = 0; later <= days; later++)
        {
            Assert.True(OnTime(pipeline, Change.Plus("shoot.slip", later)) >= Model.Study.Brief.Confidence, $"{later} days later");
        }

        Assert.True(OnTime(pipeline, Change.Plus("shoot.slip", days + 1)) < Model.Study.Brief.Confidence);
        Assert.True(OnTime(pipeline, Change.Plus("shoot.slip", days + 8)) < Model.Study.Brief.Confidence);
    }

    [Fact]
    public void FarmStart_ThatHourKeepsTheDate_ADayLaterDoesNot()
    {
        double start = Answer.Of("transcode").LatestFarmStart!.Value;
        Assert.Equal(0, start % 3600);
        Assert.True(OnTime("transcode", Change.Fix("farm.starts", start)) >= Model.Study.Brief.Confidence);
        Assert.True(OnTime("transcode", Change.Fix("farm.starts", start - 86_400)) >= Model.Study.Brief.Confidence);

        // Found to the hour and rounded down: two hours later it is too late, whatever the farm's windows.
        Assert.True(OnTime("transcode", Change.Fix("farm.starts", start + 7200)) < Model.Study.Brief.Confidence);
        Assert.True(OnTime("transcode", Change.Fix("farm.starts", start + 86_400)) < Model.Study.Brief.Confidence);
        Assert.Null(Answer.Of("native").LatestFarmStart);
    }

    [Theory]
    [MemberData(nameof(Pipelines))]
    public void Lock_ThatDayKeepsTheDate_ADayLaterDoesNot(string pipeline)
    {
        int days = Answer.Of(pipeline).LatestLockDays!.Value;
        Assert.True(OnTime(pipeline, Change.Plus("edit.lock", days)) >= Model.Study.Brief.Confidence);
        Assert.True(OnTime(pipeline, Change.Plus("edit.lock", days + 1)) < Model.Study.Brief.Confidence);
    }

    [Fact]
    public void Dates_GateFailsAsPlanned_AreNotGiven()
    {
        StudyModel late = new(StudyFixtures.Prepared(StudyFixtures.ThreeCameras.Replace("due: 2027-05-03", "due: 2027-03-02", StringComparison.Ordinal) + "\npipelines: [transcode]\n"));
        PipelineOutcome outcome = Compare.Run(late, 50).Pipelines[0];
        Assert.Contains(outcome.Gates, g => g is { Name: "date", State: GateState.Fails });
        Assert.Null(outcome.LatestShootStartDays);
        Assert.Null(outcome.LatestFarmStart);

        // The lock can still be planned early enough, and how early is said.
        Assert.InRange(outcome.LatestLockDays!.Value, -200, -1);
    }
}
