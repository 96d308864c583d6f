namespace PostPipeline.RenderTimes.FarmLogs;

/// <summary>One attempt at one task, as a farm's own log tells it.</summary>
/// <param name="Job">The job.</param>
/// <param name="Task">The task within the job.</param>
/// <param name="Node">The node.</param>
/// <param name="StartSeconds">Start, seconds since 1970-01-01 UTC.</param>
/// <param name="EndSeconds">End; not used while the attempt runs.</param>
/// <param name="Frames">Frames of the task, 1 or more.</param>
/// <param name="State">How the attempt stands.</param>
public sealed record FarmLogEntry(string Job, string Task, string Node, double StartSeconds, double EndSeconds, long Frames, AttemptState State)
{
    /// <summary>The longest attempt taken for real: 31 days.</summary>
    public const double LongestSeconds = 31 * 86_400;

    /// <summary>Seconds that the attempt took.</summary>
    public double Seconds => EndSeconds - StartSeconds;

    /// <summary>What is wrong with the entry; null where nothing is.</summary>
    public RowViolation? Violation() =>
        Job.Length == 0 ? new("job", "it is empty")
        : Task.Length == 0 ? new("task", "it is empty")
        : Node.Length == 0 ? new("node", "it is empty")
        : Frames < 1 ? new("frames", $"{Frames}; allowed is 1 or more")
        : !(StartSeconds is >= 0 and < 1e11) ? new("start", "it is no time")
        : State != AttemptState.Running && !(Seconds is >= 0 and <= LongestSeconds) ? new("end", $"the attempt lasts {Seconds} s; allowed is 0 to {LongestSeconds} (31 days)")
        : null;
}
