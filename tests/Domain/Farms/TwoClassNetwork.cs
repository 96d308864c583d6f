using PostPipeline.Farms;
using PostPipeline.Quantities.Randomness;

namespace PostPipeline.Domain.Tests.Farms;

/// <summary>
/// Two classes of customers that go round between two storage pools, each shared equally by whoever is there: service times
/// that differ by class have a product form under processor sharing, not under first come, first served.
/// </summary>
internal sealed class TwoClassNetwork(double[] customers) : QueueModel
{
    private const double Unit = 1e6;
    private const double BytesPerSecond = 1e9;
    private static readonly double[][] MeanService = [[0.2, 0.1], [0.1, 0.3]];

    public override double FullJobs => 3e6;

    public override QueueRun Run(long seed, int replication, int counted)
    {
        List<FarmJob> jobs = [];
        List<int> classes = [];
        List<int> last = [];
        int all = (int)(customers[0] + customers[1]);
        for (int c = 0; c < all; c++)
        {
            int kind = c < customers[0] ? 0 : 1;
            RandomStream random = new(seed, RandomPurpose.Arrivals, replication, c);
            for (int i = 0; i < counted / all; i++)
            {
                int centre = i % 2;
                jobs.Add(new FarmJob
                {
                    Class = centre,
                    Frames = 1,
                    SecondsPerFrame = 0,
                    ReadBytesPerFrame = 1 + (long)random.NextExponential(MeanService[kind][centre] * BytesPerSecond),
                    After = i == 0 ? [] : [jobs.Count - 1],
                });
                classes.Add(kind);
            }

            last.Add(jobs.Count - 1);
        }

        FarmScenario scenario = new()
        {
            Nodes = [new NodeClass { Name = "any", Count = all }],
            Classes = [new JobClass { Name = "first", Storage = 0 }, new JobClass { Name = "second", Storage = 1 }],
            Storage = [new StoragePool("first", BytesPerSecond), new StoragePool("second", BytesPerSecond)],
            Jobs = jobs,
        };
        QueueRecorder recorder = new(jobs.Count, r => (classes[r.Job] * 2) + jobs[r.Job].Class, 4);
        FarmSimulation.Run(scenario, seed, replication, recorder);
        long until = last.Min(recorder.EndOf);
        long from = until / 10;
        StationTotals[] totals = recorder.Totals(from, until);
        double window = until - from;
        Dictionary<string, double> measures = new()
        {
            ["X_class1"] = totals[0].Jobs / window * Unit,
            ["X_class2"] = totals[2].Jobs / window * Unit,
            ["Q_c1_k1"] = totals[0].Inside / window,
            ["Q_c1_k2"] = totals[1].Inside / window,
            ["Q_c2_k1"] = totals[2].Inside / window,
            ["Q_c2_k2"] = totals[3].Inside / window,
        };
        return new(measures, []);
    }
}
