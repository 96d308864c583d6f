namespace PostPipeline.RenderTimes.FarmLogs;

/// <summary>One attempt at one task, as a farm's own log tells it.</summary>
/// <param name="Job">The job.</param>
/// <param name="Task">The task within the job.</param>
/// <param name="Node">The node.</param>
/// <param name="StartSeconds">Start, seconds since 1970-01-01 UTC.</param>
/// <param name="EndSeconds">End; not used while the attempt runs.</param>
/// <param name="Frames">Frames of the task, 1 or more.</param>
/// <param name="State">How the attempt stands.</param>
/// <param name="Attempt">Which attempt at its task it is, from 1; 0 where the log does not say.</param>
public sealed record FarmLogEntry(string Job, string Task, string Node, double StartSeconds, double EndSeconds, long Frames, AttemptState State, int Attempt = 0)
{
    /// <summary>The most attempts at a task.</summary>
    public const int MostAttempts = 10_000;

    /// <summary>The longest name of a job, task or node.</summary>
    public const int LongestName = 200;

    /// <summary>The longest attempt taken for real: 31 days.</summary>
    public const double LongestSeconds = 31 * 86_400;

    /// <summary>Seconds that the attempt took.</summary>
    public double Seconds => EndSeconds - StartSeconds;

    /// <summary>What is wrong with the entry; null where nothing is.</summary>
    public RowViolation? Violation() =>
        Name("job", Job) ?? Name("task", Task) ?? Name("node", Node) ?? Figures();

    private RowViolation? Figures() =>
        Attempt is < 0 or > MostAttempts ? new("attempt", $"{Attempt}; allowed is 1 to {MostAttempts}, or 0 where the log does not say")
        : Frames < 1 ? new("frames", $"{Frames}; allowed is 1 or more")
        : !(StartSeconds is >= 0 and < 1e11) ? new("start", $"{StartSeconds}; allowed is 0 to 1e11 s since 1970-01-01 UTC")
        : State != AttemptState.Running && !(Seconds is >= 0 and <= LongestSeconds) ? new("end", $"the attempt lasts {Seconds} s; allowed is 0 to {LongestSeconds} (31 days)")
        : null;

    private static RowViolation? Name(string field, string name) =>
        name.Length is 0 or > LongestName ? new(field, $"it has {name.Length} characters; allowed is 1 to {LongestName}") : null;
}
