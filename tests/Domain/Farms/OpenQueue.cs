using PostPipeline.Farms;
using PostPipeline.Quantities.Randomness;

namespace PostPipeline.Domain.Tests.Farms;

/// <summary>Jobs of one task that arrive at random at equal nodes. The clock's microsecond is a thousandth of the unit of time, so that rounding does not show.</summary>
internal sealed class OpenQueue(double arrivals, double meanService, double squaredVariation, int servers) : QueueModel
{
    private const double Unit = 1e6;

    private double Load => arrivals * meanService / servers;

    private double Idle => 1 - Load;

    // The variance of an M/M/1 queue's mean number over n jobs is 2(1 + load)/(1 − load)²/n of its square (Whitt, Management
    // Science 35, 1989): an interval of 4.5 standard deviations each way has 2 % of it at n = 200,000/(1 − load)², and with
    // control variates at half of that. Variation adds. Where few jobs wait, more are needed for the measures of waiting: the
    // part that waits is about load^(√(2(m + 1)) − 1) (Sakasegawa, Annals of the Institute of Statistical Mathematics 29,
    // 1977), and its power was found by trying with another seed.
    public override double FullJobs => Math.Max(
        2e6, 150e3 * Math.Pow(Variation, Math.Max(1, Math.Min(1.5, squaredVariation))) / Math.Pow(Waiting, 1.8) / (Idle * Idle));

    private double Waiting => Math.Pow(Load, Math.Sqrt(2 * (servers + 1)) - 1);

    // Arrivals and services together; 1 where both are exponential.
    private double Variation => (1 + squaredVariation) / 2;

    // Ten times what an empty queue needs to forget that it was: the servers fill, then 4/(1 − load)² jobs (the relaxation
    // time 1/(1 − √load)² of an M/M/1 queue, Cohen 1969).
    private int WarmUp => (int)(10 * Math.Max(1, Variation) * (servers + (4 / (Idle * Idle))));

    public override QueueRun Run(long seed, int replication, int counted)
    {
        // The window is a stretch of time, not a number of jobs: per job, time averages would be off by the part 1/jobs, which
        // shows once control variates have made the intervals narrow.
        double from = WarmUp * Unit / arrivals;
        double until = from + (counted * Unit / arrivals);
        RandomStream gaps = new(seed, RandomPurpose.Arrivals, replication);
        RandomStream times = new(seed, RandomPurpose.Durations, replication);
        List<FarmJob> work = [];
        double came = -counted;
        double service = 0;
        double square = 0;
        double at = gaps.NextExponential(Unit / arrivals);
        while (at < until)
        {
            double size = Service(ref times, squaredVariation);
            work.Add(new FarmJob { Frames = 1, ReleaseMicroseconds = (long)at, SecondsPerFrame = meanService * size });
            if (at >= from)
            {
                (came, service, square) = (came + 1, service + size - 1, square + (size * size) - 1 - squaredVariation);
            }

            at += gaps.NextExponential(Unit / arrivals);
        }

        QueueRecorder recorder = new(work.Count, _ => 0, 1);
        FarmSimulation.Run(Farm.Of(servers, [.. work]), seed, replication, recorder);
        StationTotals total = recorder.Totals((long)from, (long)until)[0];
        double window = (long)until - (long)from;
        double inside = total.Inside / window;
        double response = total.Time / total.Jobs / Unit;
        double waiting = total.Waiting / total.Jobs / Unit;
        Dictionary<string, double> measures = new()
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
        return new(measures, squaredVariation == 0 ? [came / counted] : [came / counted, service / counted, square / counted]);
    }
}
