namespace PostPipeline.Farms.Simulations;

/// <summary>
/// Attempts that will fail, by the instant at which they do, and those that have failed and wait to be made again: by the rank
/// of their jobs, then by when they failed.
/// </summary>
internal sealed class FailedAttempts(FarmPlan plan)
{
    private readonly PairQueue failing = new();
    private readonly PairQueue again = new();
    private readonly List<Attempt> attempts = [];
    private int gathered;

    /// <summary>Whether nothing fails and nothing waits.</summary>
    public bool None => failing.Count == 0 && again.Count == 0;

    /// <summary>Whether one waits to be made again.</summary>
    public bool AnyWaits => again.Count > 0;

    /// <summary>The one that is made again first; one must wait.</summary>
    public Attempt First => attempts[again.First.Value];

    /// <summary>Forgets everything.</summary>
    public void Clear()
    {
        failing.Clear();
        again.Clear();
        attempts.Clear();
        gathered = 0;
    }

    /// <summary>An attempt fails at an instant and is made again after it.</summary>
    public void Add(in Attempt failed, long end)
    {
        failing.Add(end, attempts.Count, attempts.Count);
        attempts.Add(new(failed.Job, failed.Segment, failed.Number + 1, end));
    }

    /// <summary>Attempts that have failed by an instant wait from now on.</summary>
    public void Gather(long until)
    {
        while (failing.Count > 0 && failing.First.Key <= until)
        {
            int failed = failing.First.Value;
            failing.RemoveFirst();
            again.Add(plan.Jobs[attempts[failed].Job].Rank, ((long)attempts[failed].Job << 32) | (uint)gathered++, failed);
        }
    }

    /// <summary>The next failure waits from now on; one must be failing.</summary>
    public void GatherNext() => Gather(failing.First.Key);

    /// <summary>Takes the one that is made again first; one must wait.</summary>
    public Attempt Take()
    {
        Attempt attempt = attempts[again.First.Value];
        again.RemoveFirst();
        return attempt;
    }

    /// <summary>One attempt at a segment.</summary>
    /// <param name="Job">The job.</param>
    /// <param name="Segment">The segment.</param>
    /// <param name="Number">0 for the first attempt.</param>
    /// <param name="Ready">From when it waited.</param>
    internal readonly record struct Attempt(int Job, int Segment, int Number, long Ready);
}
