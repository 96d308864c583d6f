namespace PostPipeline.Slates.Planning;

/// <summary>The aims of a plan as a reader sees them.</summary>
public static class PlanLevelText
{
    /// <summary>What is made small at a level, with its unit.</summary>
    /// <param name="level">The level.</param>
    public static string Of(PlanLevel level) => level switch
    {
        PlanLevel.Lateness => "half-days late of firm projects, times priority",
        PlanLevel.FirstHoldLateness => "half-days late of first holds, times priority",
        PlanLevel.SecondHoldLateness => "half-days late of second holds, times priority",
        PlanLevel.Extras => "money for what is rented",
        PlanLevel.Money => "money of the pipelines",
        _ => "half-days by which starts move",
    };

    /// <summary>One word for a level, as in an option of a command.</summary>
    /// <param name="level">The level.</param>
    public static string Word(PlanLevel level) => level switch
    {
        PlanLevel.Lateness => "lateness",
        PlanLevel.FirstHoldLateness => "first-hold-lateness",
        PlanLevel.SecondHoldLateness => "second-hold-lateness",
        PlanLevel.Extras => "extras",
        PlanLevel.Money => "money",
        _ => "changes",
    };
}
