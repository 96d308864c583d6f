using PostPipeline.Studies.Outcomes;

namespace PostPipeline.Studies.WhatIfs;

/// <summary>Outcomes of all pipelines under some changes, and the preferred one: what every what-if study looks at.</summary>
/// <param name="Pipelines">Outcomes in the brief's order, without stages and limits.</param>
/// <param name="Preferred">The preferred pipeline, or "none".</param>
public sealed record Decision(IReadOnlyList<PipelineOutcome> Pipelines, string Preferred)
{
    /// <summary>The word for "no pipeline is admissible".</summary>
    public const string None = "none";

    /// <summary>Decides on given draws under some changes.</summary>
    /// <param name="model">The model.</param>
    /// <param name="draws">Draws of its inputs.</param>
    /// <param name="changes">What-if changes.</param>
    /// <param name="threads">Threads to use; the numbers do not hang on it.</param>
    /// <param name="cancellation">Ends the computation.</param>
    public static Decision Of(StudyModel model, Inputs.DrawSet draws, IReadOnlyList<Change> changes, int threads = 1, CancellationToken cancellation = default)
    {
        Evaluation evaluation = model.Evaluate(draws, changes, threads, cancellation: cancellation);
        PipelineOutcome[] outcomes = [.. evaluation.Pipelines.Select((_, i) => Compare.Outcome(model, evaluation, i))];
        return new(outcomes, Preference.Of(model.Study.Brief, outcomes)?.Name ?? None);
    }
}
