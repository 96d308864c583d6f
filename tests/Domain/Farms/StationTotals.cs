namespace PostPipeline.Domain.Tests.Farms;

/// <summary>Sums over the jobs of one station inside a window of time; jobs must come in order of their readiness for <see cref="Empty"/>.</summary>
internal sealed class StationTotals(long from)
{
    private long lastEnd = from;

    public double Busy { get; private set; }

    public double Inside { get; private set; }

    public long Jobs { get; private set; }

    public double Time { get; private set; }

    public double Waiting { get; private set; }

    public long Waited { get; private set; }

    public double Empty { get; private set; }

    public void Add(long ready, long start, long end, long from, long until)
    {
        Busy += Math.Max(0, Math.Min(end, until) - Math.Max(start, from));
        Inside += Math.Max(0, Math.Min(end, until) - Math.Max(ready, from));
        if (ready >= from && ready < until)
        {
            Jobs++;
            Time += end - ready;
            Waiting += start - ready;
            Waited += start > ready ? 1 : 0;
        }

        Empty += Math.Max(0, Math.Min(ready, until) - Math.Max(lastEnd, from));
        lastEnd = Math.Max(lastEnd, end);
    }

    public void Close(long until) => Empty += Math.Max(0, until - lastEnd);
}
