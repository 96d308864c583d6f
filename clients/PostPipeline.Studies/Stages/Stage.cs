using PostPipeline.Flows;

namespace PostPipeline.Studies.Stages;

/// <summary>
/// A step of a pipeline: what it waits for, who or what does it, and when a draw finishes it.
/// </summary>
/// <param name="name">Its name, unique in a pipeline.</param>
/// <param name="resource">Who or what does it: offload, assistants, farm, editors, graders, checkers, client.</param>
/// <param name="tag">Which named events hold it up.</param>
/// <param name="after">Places of the stages it waits for.</param>
internal abstract class Stage(string name, string resource, int tag, params int[] after)
{
    public string Name { get; } = name;

    public string Resource { get; } = resource;

    public int Tag { get; } = tag;

    public int[] After { get; } = after;

    /// <summary>Under which name the farm's calibration of this stage is kept; empty where there is none.</summary>
    public string CalibrationKey { get; init; } = string.Empty;

    public bool IsFarm { get; } = resource == "farm";

    public bool IsAssistants { get; } = resource == "assistants";

    public bool IsPeople { get; } = resource is "assistants" or "viewing" or "graders" or "checkers";

    /// <summary>Whether another stage takes up its days as they are done.</summary>
    public bool KeepsDays { get; set; }

    /// <summary>Whether the stage hangs on the lock, directly or not; the others are the same with and without slip.</summary>
    public bool HangsOnLock { get; set; }

    /// <summary>When the stage is finished, s; start is the latest finish of what it waits for.</summary>
    public abstract long Finish(Scope scope, int self, long start);

    /// <summary>Walks work through windows; work beyond the calendar ends at its end.</summary>
    protected static long Walk(Windows windows, long start, double seconds)
    {
        int near = -1;
        return Walk(windows, start, seconds, ref near);
    }

    /// <summary>The same for many pieces of work in order of time.</summary>
    protected static long Walk(Windows windows, long start, double seconds, ref int near) =>
        // The ceiling keeps work that is not nothing from taking no time.
        seconds >= 1e15 ? Calendar.Never : windows.Advance(start, (long)Math.Ceiling(seconds), ref near) ?? Calendar.Never;
}
