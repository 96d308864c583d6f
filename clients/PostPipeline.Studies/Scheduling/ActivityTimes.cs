namespace PostPipeline.Studies.Scheduling;

/// <summary>When an activity may and must run.</summary>
/// <param name="EarliestStart">As soon as all before it are done.</param>
/// <param name="EarliestFinish">Earliest start and duration.</param>
/// <param name="LatestStart">The latest start that does not move the end.</param>
/// <param name="LatestFinish">The latest finish that does not move the end.</param>
public readonly record struct ActivityTimes(double EarliestStart, double EarliestFinish, double LatestStart, double LatestFinish)
{
    /// <summary>How much later it may start without moving the end.</summary>
    public double Slack => LatestStart - EarliestStart;
}
