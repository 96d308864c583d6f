namespace PostPipeline.Slates.Planning;

/// <summary>An enquiry against the present slate.</summary>
/// <param name="Verdict">Whether it fits.</param>
/// <param name="Without">The slate without it; null where even that has no plan.</param>
/// <param name="With">The slate with it; null where there is no plan.</param>
/// <param name="Extras">What is rented more for it, in money; below 0 where less.</param>
/// <param name="Dates">Whose dates give way.</param>
/// <param name="Pipelines">Which projects take another pipeline for it.</param>
/// <param name="Obstacles">Where there is no plan: what is in the way.</param>
public sealed record EnquiryAnswer(
    EnquiryVerdict Verdict,
    SlatePlan? Without,
    SlatePlan? With,
    long Extras,
    IReadOnlyList<DateChange> Dates,
    IReadOnlyList<PipelineChange> Pipelines,
    IReadOnlyList<string> Obstacles)
{
    /// <summary>What other projects' pipelines cost more because they give way.</summary>
    public long MoneyOfGivingWay => Pipelines.Sum(p => p.Money);

    /// <summary>The price at which it can be taken, on top of its own pipeline: what is rented and what giving way costs.</summary>
    public long Price => Extras + MoneyOfGivingWay;
}
