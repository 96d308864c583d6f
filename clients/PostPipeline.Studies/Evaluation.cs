using PostPipeline.Studies.Stages;

namespace PostPipeline.Studies;

/// <summary>What an evaluation gave, draw by draw. All times are seconds on the study's clock, all sizes bytes.</summary>
public sealed class Evaluation
{
    private readonly IReadOnlyList<Change> changes;

    internal Evaluation(StudyModel model, int draws, bool detail, IReadOnlyList<Change> changes)
    {
        (Model, Draws, this.changes) = (model, draws, changes);
        Pipelines = [.. model.Plans.Select(p => new PipelineDraws(p, draws, detail))];
        (Bytes, LeastRest, OffloadEnd) = (new double[draws], new double[draws], new double[draws]);
    }

    /// <summary>The model.</summary>
    public StudyModel Model { get; }

    /// <summary>Draws.</summary>
    public int Draws { get; }

    /// <summary>The moment that counts as on time, s.</summary>
    public double Due => Model.DueUnder(changes);

    /// <summary>Each pipeline's draws, in the brief's order.</summary>
    public IReadOnlyList<PipelineDraws> Pipelines { get; }

    /// <summary>Bytes of the originals.</summary>
    public double[] Bytes { get; }

    /// <summary>The least rest between a day's last card and the next call, s; infinite for a shoot of one day.</summary>
    public double[] LeastRest { get; }

    /// <summary>When the last day's cards are done.</summary>
    public double[] OffloadEnd { get; }

    /// <summary>The likely value of an input under this evaluation's changes.</summary>
    /// <param name="input">Its name.</param>
    public double Mean(string input) => Model.Likely(input, changes);

    internal void KeepShared(int draw, Scope scope) =>
        (Bytes[draw], LeastRest[draw], OffloadEnd[draw]) = (scope.Bytes, scope.LeastRest, scope.OffloadEnd);

    internal void KeepCritical(int[][] counts)
    {
        for (int p = 0; p < counts.Length; p++)
        {
            Pipelines[p].KeepCritical(counts[p]);
        }
    }

    internal void Keep(int draw, int pipeline, PipelinePlan plan, Scope scope, PipelineResult result) =>
        Pipelines[pipeline].Keep(draw, plan, scope, result);
}
