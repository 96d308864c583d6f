namespace PostPipeline.Farms;

/// <summary>What a scenario may hold at most.</summary>
public static class FarmScenarioLimits
{
    /// <summary>Nodes in all classes together.</summary>
    public const int MostNodes = 100_000;

    /// <summary>Tasks of all jobs together, joins and the expected competing work included.</summary>
    public const int MostTasks = 10_000_000;

    /// <summary>Node classes, job classes, licence pools and storage pools, each.</summary>
    public const int MostClasses = 100;

    /// <summary>Projects.</summary>
    public const int MostProjects = 1_000;

    /// <summary>The highest priority; the lowest is its negative.</summary>
    public const int MostPriority = 1_000;

    /// <summary>Frames a job.</summary>
    public const long MostFrames = 1_000_000_000;

    /// <summary>Windows of one calendar.</summary>
    public const int MostWindows = 10_000;
}
