using PostPipeline.Farms;
using PostPipeline.Quantities.Randomness;

namespace PostPipeline.Domain.Tests.Farms;

/// <summary>Jobs of one task that arrive at random at equal nodes. The clock's microsecond is a thousandth of the unit of time, so that rounding does not show.</summary>
internal sealed class OpenQueue(double arrivals, double meanService, double squaredVariation, int servers) : QueueModel
{
    private const double Unit = 1e6;

    private double Load => arrivals * meanService / servers;

    private double Idle => 1 - Load;

    // The variance of the mean wait over n jobs of an M/M/1 queue is about 3.6 load/(1 − load)⁴/n (Daley 1968), so an interval of
    // 4.5 standard deviations each way has 2 % of 1/(1 − load) at n = 180,000/(1 − load)², and four times that leaves room. Variation adds, and where few jobs
    // of many servers wait, more jobs are needed.
    public override double FullJobs =>
        Math.Clamp(800e3 * Math.Pow((1 + squaredVariation) / 2, 1.5) * (servers > 1 ? 4 : 1) / (Idle * Idle), 10e6, 400e6);

    private int WarmUp => (int)Math.Min(40_000, 30 * servers * (1 + squaredVariation) / (Idle * Idle));

    public override Dictionary<string, double> Run(long seed, int replication, int counted)
    {
        int jobs = counted + WarmUp;
        RandomStream gaps = new(seed, RandomPurpose.Arrivals, replication);
        RandomStream times = new(seed, RandomPurpose.Durations, replication);
        FarmJob[] work = new FarmJob[jobs];
        double at = 0;
        for (int j = 0; j < jobs; j++)
        {
            at += gaps.NextExponential(Unit / arrivals);
            work[j] = new FarmJob { Frames = 1, ReleaseMicroseconds = (long)at, SecondsPerFrame = meanService * Service(ref times, squaredVariation) };
        }

        QueueRecorder recorder = new(jobs, _ => 0, 1);
        FarmSimulation.Run(Farm.Of(servers, work), seed, replication, recorder);
        long from = work[WarmUp].ReleaseMicroseconds;
        long until = work[^1].ReleaseMicroseconds;
        StationTotals total = recorder.Totals(from, until)[0];
        double window = until - from;
        double inside = total.Inside / window;
        double response = total.Time / total.Jobs / Unit;
        double waiting = total.Waiting / total.Jobs / Unit;
        return new()
        {
            ["U"] = total.Busy / window / servers,
            ["R"] = response,
            ["R_total"] = response,
            ["Q"] = inside,
            ["L"] = inside,
            ["Wq"] = waiting,
            ["Lq"] = (total.Inside - total.Busy) / window,
            ["p0"] = total.Empty / window,
            ["ErlangC_Pwait"] = (double)total.Waited / total.Jobs,
            ["ErlangC_Pwait_erlangc()"] = (double)total.Waited / total.Jobs,
        };
    }
}
