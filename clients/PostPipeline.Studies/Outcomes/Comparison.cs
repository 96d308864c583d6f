namespace PostPipeline.Studies.Outcomes;

/// <summary>The answer to a brief: each pipeline's outcome, what is common to them, and which is preferred and why.</summary>
public sealed record Comparison
{
    /// <summary>The model behind it.</summary>
    public required StudyModel Model { get; init; }

    /// <summary>The draws behind it.</summary>
    public required Evaluation Evaluation { get; init; }

    /// <summary>The draws of the inputs, before the changes.</summary>
    public required Inputs.DrawSet Draws { get; init; }

    /// <summary>What-if changes that everything here was computed under.</summary>
    public required IReadOnlyList<Change> Changes { get; init; }

    /// <summary>Outcomes in the brief's order.</summary>
    public required IReadOnlyList<PipelineOutcome> Pipelines { get; init; }

    /// <summary>Bytes of a usual shoot day and of the heaviest.</summary>
    public required (double Mean, double Most) BytesPerDay { get; init; }

    /// <summary>Bytes of the shoot.</summary>
    public required Range Bytes { get; init; }

    /// <summary>End of the latest day's offload, s after its midnight, at the planned material.</summary>
    public required double LatestOffloadEnd { get; init; }

    /// <summary>The shoot day, from 0, on which that is.</summary>
    public required int LatestOffloadDay { get; init; }

    /// <summary>Findings that concern the shoot.</summary>
    public required IReadOnlyList<Finding> Findings { get; init; }

    /// <summary>Every margin in the answer, once.</summary>
    public required IReadOnlyList<Margin> Margins { get; init; }

    /// <summary>The preferred pipeline; null where none is admissible.</summary>
    public required string? Preferred { get; init; }

    /// <summary>Why, as a sentence.</summary>
    public required string Why { get; init; }

    /// <summary>Pairs of pipelines: how often the first is before, and cheaper than, the second.</summary>
    public required IReadOnlyList<PairOutcome> Pairs { get; init; }

    /// <summary>The outcome of a pipeline.</summary>
    /// <param name="name">Its name.</param>
    public PipelineOutcome Of(string name) => Pipelines.First(p => p.Name == name);
}
