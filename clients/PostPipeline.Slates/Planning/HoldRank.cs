namespace PostPipeline.Slates.Planning;

/// <summary>How firmly a project stands on the slate. A lower rank never makes a higher one later.</summary>
public enum HoldRank
{
    /// <summary>It is booked.</summary>
    Firm,

    /// <summary>A first hold: next after what is firm.</summary>
    FirstHold,

    /// <summary>A second hold: after the first holds.</summary>
    SecondHold,
}
