using PostPipeline.Farms;
using PostPipeline.Quantities.Randomness;

namespace PostPipeline.Domain.Tests.Farms;

/// <summary>
/// Customers that go round for ever between a thinking place and stations: from the first station to each other in
/// proportion to its visits, and back to it; after 1/V₁ of its visits a customer thinks. Each customer is a long chain of jobs.
/// </summary>
internal sealed class ClosedNetwork(double[] service, double[] visits, int[] servers, double think, int customers) : QueueModel
{
    private const double Unit = 1e6;

    public override double FullJobs => 7e6;

    public override QueueRun Run(long seed, int replication, int counted)
    {
        int stations = service.Length;
        RoutedJobs jobs = new();
        int steps = counted / customers;
        bool[] passEnds = new bool[steps * customers];
        int[] last = [.. Enumerable.Repeat(-1, customers)];
        int[] at = [.. Enumerable.Repeat(think > 0 ? stations : 0, customers)];
        RandomStream[] random = [.. Enumerable.Range(0, customers).Select(c => new RandomStream(seed, RandomPurpose.Arrivals, replication, c))];

        // Step by step, not customer by customer: among waiting jobs the earlier in the list goes first, and no customer may starve.
        for (int i = 0; i < steps; i++)
        {
            for (int c = 0; c < customers; c++)
            {
                int station = at[c];
                last[c] = jobs.Add(station, random[c].NextExponential(station == stations ? think : service[station]), last[c]);
                passEnds[last[c]] = station == stations || (think == 0 && station == stations - 1);
                at[c] = Next(station, ref random[c]);
            }
        }

        QueueRecorder recorder = new(jobs.Count, StationOf, stations + 1);
        FarmSimulation.Run(jobs.Scenario([.. servers, customers]), seed, replication, recorder);
        long until = last.Min(recorder.EndOf);
        long from = until / 10;
        StationTotals[] totals = recorder.Totals(from, until);
        double window = until - from;
        int passes = 0;
        for (int j = 0; j < jobs.Count; j++)
        {
            passes += passEnds[j] && recorder.EndOf(j) >= from && recorder.EndOf(j) < until ? 1 : 0;
        }

        double throughput = passes / window * Unit;
        Dictionary<string, double> estimates = new()
        {
            ["X"] = throughput,
            ["X_system"] = throughput,
            ["X_lower"] = throughput,
            ["X_upper"] = throughput,
            ["R_lower"] = (customers / throughput) - think,
            ["R_upper"] = (customers / throughput) - think,
        };
        for (int s = 0; s < stations; s++)
        {
            estimates[$"U{s + 1}"] = totals[s].Busy / window / servers[s];
            estimates[$"R{s + 1}"] = totals[s].Time / totals[s].Jobs / Unit;
            estimates[$"Q{s + 1}"] = totals[s].Inside / window;
        }

        return new(estimates, []);
    }

    private int StationOf(TaskRecord record)
    {
        int node = record.Node;
        int station = 0;
        while (station < servers.Length && node >= servers[station])
        {
            node -= servers[station++];
        }

        return station;
    }

    private int Next(int at, ref RandomStream random)
    {
        int stations = service.Length;
        if (at == stations)
        {
            return 0;
        }

        if (at > 0)
        {
            return think > 0 ? 0 : (at + 1) % stations;
        }

        if (think == 0)
        {
            return 1;
        }

        double draw = random.NextUnit() * visits[0];
        for (int s = 1; s < stations; s++)
        {
            draw -= visits[s];
            if (draw < 0)
            {
                return s;
            }
        }

        return stations;
    }
}
