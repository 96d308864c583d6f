namespace PostPipeline.Slates.Planning;

/// <summary>What a plan makes small, in this order; a later level never worsens an earlier one.</summary>
public enum PlanLevel
{
    /// <summary>Half-days of lateness of firm projects, times their weights.</summary>
    Lateness,

    /// <summary>The same of first holds.</summary>
    FirstHoldLateness,

    /// <summary>The same of second holds.</summary>
    SecondHoldLateness,

    /// <summary>Money for what is rented.</summary>
    Extras,

    /// <summary>Money of the pipelines.</summary>
    Money,

    /// <summary>Half-days by which starts move against the running plan, and changed pipelines.</summary>
    Changes,
}
