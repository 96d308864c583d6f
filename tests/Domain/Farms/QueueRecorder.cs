using PostPipeline.Farms;

namespace PostPipeline.Domain.Tests.Farms;

/// <summary>
/// Statistics of a station from the rows of a simulation: what lies before the warm-up or after the end is left out.
/// </summary>
internal sealed class QueueRecorder(int jobs, Func<TaskRecord, int> stationOf, int stations) : ITaskRecorder
{
    private readonly long[] ready = new long[jobs];
    private readonly long[] start = new long[jobs];
    private readonly long[] end = new long[jobs];
    private readonly int[] station = new int[jobs];

    public void Ended(in TaskRecord record) =>
        (ready[record.Job], start[record.Job], end[record.Job], station[record.Job]) = (record.Ready, record.Start, record.End, stationOf(record));

    /// <summary>When a job was ready.</summary>
    public long ReadyAt(int job) => ready[job];

    /// <summary>When a job ended.</summary>
    public long EndOf(int job) => end[job];

    /// <summary>For each station: busy time, time in the station, both inside the window; jobs that began to wait in it, their time and waiting, and how many waited; empty time.</summary>
    public StationTotals[] Totals(long from, long until)
    {
        StationTotals[] totals = [.. Enumerable.Range(0, stations).Select(_ => new StationTotals(from))];
        for (int j = 0; j < ready.Length; j++)
        {
            totals[station[j]].Add(ready[j], start[j], end[j], from, until);
        }

        Array.ForEach(totals, t => t.Close(until));
        return totals;
    }
}
