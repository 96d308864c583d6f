namespace PostPipeline.Studies.Outcomes;

/// <summary>What one pipeline gives for one brief. Times are seconds on the study's clock, sizes bytes.</summary>
public sealed record PipelineOutcome
{
    /// <summary>The pipeline.</summary>
    public required string Name { get; init; }

    /// <summary>Accepted delivery with lock slip.</summary>
    public required Range Delivery { get; init; }

    /// <summary>Accepted delivery if the lock date holds.</summary>
    public required Range DeliveryIfLockHolds { get; init; }

    /// <summary>P(on time) with lock slip, if nothing outside the brief's list happens.</summary>
    public required Probability OnTime { get; init; }

    /// <summary>P(on time) if the lock date holds, if nothing outside the brief's list happens.</summary>
    public required Probability OnTimeIfLockHolds { get; init; }

    /// <summary>When the picture is locked.</summary>
    public required Range Locked { get; init; }

    /// <summary>When the farm has converted the last of the material.</summary>
    public required Range FarmFinish { get; init; }

    /// <summary>Whether the pipeline converts material on the farm.</summary>
    public required bool HasFarmStage { get; init; }

    /// <summary>The online peak.</summary>
    public required Range OnlinePeak { get; init; }

    /// <summary>The nearline peak.</summary>
    public required Range NearlinePeak { get; init; }

    /// <summary>Money.</summary>
    public required Range Cost { get; init; }

    /// <summary>Node-hours.</summary>
    public required Range NodeHours { get; init; }

    /// <summary>Person-hours.</summary>
    public required Range PeopleHours { get; init; }

    /// <summary>Stages in order.</summary>
    public required IReadOnlyList<StageOutcome> Stages { get; init; }

    /// <summary>Budget lines.</summary>
    public required IReadOnlyList<CostLine> Costs { get; init; }

    /// <summary>Who pays how much; empty where no detail was asked for.</summary>
    public required IReadOnlyList<PayerLine> Payers { get; init; }

    /// <summary>The mean of all money.</summary>
    public required double CostMean { get; init; }

    /// <summary>Generations: name, tier and median bytes.</summary>
    public required IReadOnlyList<GenerationOutcome> Generations { get; init; }

    /// <summary>Gates.</summary>
    public required IReadOnlyList<Gate> Gates { get; init; }

    /// <summary>Quality rows.</summary>
    public required IReadOnlyList<QualityRow> Quality { get; init; }

    /// <summary>Findings of this pipeline.</summary>
    public required IReadOnlyList<Finding> Findings { get; init; }

    /// <summary>What sets the answer now.</summary>
    public LimitMove? Binding { get; init; }

    /// <summary>What would set it after that.</summary>
    public LimitMove? Next { get; init; }

    /// <summary>How many calendar days later the shoot may start and the date gate still pass; null where it fails already.</summary>
    public int? LatestShootStartDays { get; init; }

    /// <summary>The last moment at which the farm may start and the date gate still pass; null where there is no farm stage or the gate fails already.</summary>
    public double? LatestFarmStart { get; init; }

    /// <summary>How many calendar days later the lock may be planned and the date gate still pass; negative where it must be earlier, null where no lock date helps.</summary>
    public int? LatestLockDays { get; init; }

    /// <summary>Admissible where every gate passes, not proven where one is unknown and none fails.</summary>
    public string Admissible => Gates.Any(g => g.State == GateState.Fails) ? "no" : Gates.Any(g => g.State == GateState.Unknown) ? "not proven" : "yes";
}
