namespace PostPipeline.Footage.Seats;

/// <summary>How a seat goes.</summary>
public enum SeatVerdict
{
    /// <summary>Nobody measured it: unknown is not a pass.</summary>
    NotMeasured = 0,

    /// <summary>At least 1.5 times what is needed.</summary>
    Comfortable = 1,

    /// <summary>From 1 to 1.5 times.</summary>
    Tight = 2,

    /// <summary>Below what is needed, or out of memory.</summary>
    Fails = 3,
}
