using PostPipeline.Studies.Outcomes;
using Xunit;

namespace PostPipeline.Studies.Tests.Outcomes;

/// <summary>Binding limits and last responsible dates, found by a quicker way than a whole evaluation, held against whole evaluations.</summary>
public class LastDatesTests
{
    private static readonly Comparison Compared = Compare.Run(new StudyModel(StudyFixtures.Prepared(StudyFixtures.ThreeCameras)), 100, 2);

    [Fact]
    public void LastDates_OfEveryPipeline_AreTheLastThatPassTheGate()
    {
        for (int i = 0; i < Compared.Pipelines.Count; i++)
        {
            PipelineOutcome outcome = Compared.Pipelines[i];
            Edge(i, "edit.lock", outcome.LatestLockDays, -1000);
            Edge(i, "shoot.slip", outcome.LatestShootStartDays, 0);
        }

        Assert.Contains(Compared.Pipelines, p => p.LatestLockDays is not null);
    }

    [Fact]
    public void BindingLimit_OfEveryPipeline_GainsWhatAWholeEvaluationSays()
    {
        Assert.Contains(Compared.Pipelines, p => p.Binding is { Name: "lock slip" or "lock date" or "farm speed" or "assistants" or "graders" or "editing after the last material" });
        for (int i = 0; i < Compared.Pipelines.Count; i++)
        {
            Change? step = Compared.Pipelines[i].Binding?.Name switch
            {
                "lock slip" => Change.Scale("edit.lock_slip", 0.95),
                "lock date" => Change.Plus("edit.lock", -1),
                "farm speed" => Change.Scale("farm.speed", 1.05),
                "assistants" => Change.Scale("people.assistants", 1.05),
                "graders" => Change.Scale("people.graders", 1.05),
                "editing after the last material" => Change.Scale("edit.after_material", 0.95),
                _ => null,
            };
            if (step is not null)
            {
                double relaxed = PostPipeline.Studies.Outcomes.Range.Of(Compared.Model.Evaluate(Compared.Draws, [step]).Pipelines[i].Delivered).P90;
                Assert.Equal(Compared.Pipelines[i].Delivery.P90 - relaxed, Compared.Pipelines[i].Binding!.Moves);
            }
        }
    }

    private static void Edge(int pipeline, string input, int? last, int first)
    {
        bool Passes(int days)
        {
            Evaluation evaluation = Compared.Model.Evaluate(Compared.Draws, [Change.Plus(input, days)]);
            return Probability.AtMost(evaluation.Pipelines[pipeline].Delivered, evaluation.Due).Share >= Compared.Model.Study.Brief.Confidence;
        }

        Assert.Equal(last is not null, Passes(first));
        if (last is int days)
        {
            Assert.True(Passes(days), $"{input} {days} days later fails");
            Assert.False(Passes(days + 1), $"{input} {days + 1} days later passes");
        }
    }
}
