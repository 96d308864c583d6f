namespace PostPipeline.Slates.Scheduling;

/// <summary>What is made as small as possible. Levels are taken in order; a later one never worsens an earlier.</summary>
public enum ScheduleLevel
{
    /// <summary>The end of the last task, in slots.</summary>
    Makespan,

    /// <summary>Slots of lateness of tasks of the first rank, times their weight.</summary>
    WeightedLateness,

    /// <summary>The same of the second rank.</summary>
    SecondLateness,

    /// <summary>The same of the third rank.</summary>
    ThirdLateness,

    /// <summary>Rented units times their price.</summary>
    Extras,

    /// <summary>Money of modes and options.</summary>
    Money,

    /// <summary>Slots by which starts move against the running plan, and changes of options.</summary>
    Changes,
}
