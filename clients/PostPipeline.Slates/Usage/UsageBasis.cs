namespace PostPipeline.Slates.Usage;

/// <summary>Where a number of a week that is over comes from.</summary>
public enum UsageBasis
{
    /// <summary>From the daily log of the project.</summary>
    Measured,

    /// <summary>From the plan: nobody has logged it.</summary>
    Planned,

    /// <summary>From days on which people are booked for the project.</summary>
    Booked,
}
