namespace PostPipeline.Slates.Usage;

/// <summary>What is counted of a week.</summary>
public enum UsageKind
{
    /// <summary>Hours of nodes: as logged, those that frames took; as planned, those that nodes were held in open hours.</summary>
    NodeHours,

    /// <summary>Decimal TB kept on a tier, times days.</summary>
    TbDays,

    /// <summary>Hours of people.</summary>
    PersonHours,
}
