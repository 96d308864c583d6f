using PostPipeline.Farms;
using PostPipeline.Quantities.Randomness;

namespace PostPipeline.Domain.Tests.Farms;

/// <summary>An open network: arrivals at rate 0.15 at the first of three stations, routed by P = [0 .3 .5; 1 0 0; 1 0 0], mean services 1, 2, 2.5.</summary>
internal sealed class JacksonNetwork : QueueModel
{
    private const double Unit = 1e6;
    private const double Arrivals = 0.15;
    private static readonly double[] MeanService = [1, 2, 2.5];

    // The third station is loaded to 0.9375 and sees 2.5 of about 9 visits of each arrival.
    public override double FullJobs => 310e6;

    public override QueueRun Run(long seed, int replication, int counted)
    {
        RandomStream random = new(seed, RandomPurpose.Arrivals, replication);
        RoutedJobs jobs = new();

        // A stretch of time, not a number of arrivals, for the reason that an open queue's window is one.
        double until = counted / 9 * Unit / Arrivals;
        double from = until / 10;
        double expected = (until - from) * Arrivals / Unit;
        double[] controls = [-expected, 0, 0, 0, 0, 0];
        double at = random.NextExponential(Unit / Arrivals);
        List<int> stations = [];
        List<int> firsts = [];
        while (at < until)
        {
            double one = at < from ? 0 : 1;
            controls[0] += one;
            int station = 0;
            int job = -1;
            firsts.Add(jobs.Count);
            while (station < 3)
            {
                double size = random.NextExponential(1);
                job = jobs.Add(station, MeanService[station] * size, job, job < 0 ? (long)at : 0);
                stations.Add(station);
                controls[1 + station] += one * (size - 1);
                double draw = random.NextUnit();
                if (station == 0)
                {
                    controls[4] += one * ((draw < 0.3 ? 1 : 0) - 0.3);
                    controls[5] += one * ((draw is >= 0.3 and < 0.8 ? 1 : 0) - 0.5);
                }

                station = station > 0 ? 0 : draw < 0.3 ? 1 : draw < 0.8 ? 2 : 3;
            }

            at += random.NextExponential(Unit / Arrivals);
        }

        QueueRecorder recorder = new(jobs.Count, r => stations[r.Job], 3);
        FarmSimulation.Run(jobs.Scenario(1, 1, 1), seed, replication, recorder);
        StationTotals[] totals = recorder.Totals((long)from, (long)until);
        double window = (long)until - (long)from;
        int arrived = firsts.Count(f => recorder.ReadyAt(f) >= from && recorder.ReadyAt(f) < until);
        Dictionary<string, double> estimates = [];
        for (int s = 0; s < 3; s++)
        {
            estimates[$"V{s + 1}"] = (double)totals[s].Jobs / arrived;
            estimates[$"U{s + 1}"] = totals[s].Busy / window;
            estimates[$"R{s + 1}"] = totals[s].Time / totals[s].Jobs / Unit;
            estimates[$"Q{s + 1}"] = totals[s].Inside / window;
        }

        return new(estimates, [.. controls.Select(c => c / expected)]);
    }
}
