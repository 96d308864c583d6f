using PostPipeline.Flows;
using PostPipeline.Quantities;

namespace PostPipeline.Farms;

/// <summary>
/// The smallest farm that is done by a date with a probability. No safety factor goes on top: slow nodes, failures and the
/// spread of the prediction are in the simulation already. Every size meets the same random numbers, so that sizes differ
/// by their nodes alone.
/// </summary>
public static class FarmSizing
{
    // A farm that ends later by less than this part of its finish is as early as the smaller one.
    private const double AnomalyPart = 1e-3;

    /// <summary>Brackets the answer by doubling, halves the bracket, then tries what lies beside the answer.</summary>
    /// <param name="scenario">The farm; the count of the class that is sized does not matter.</param>
    /// <param name="nodeClass">The class that is sized, by index.</param>
    /// <param name="due">When all jobs must be done, microseconds.</param>
    /// <param name="probability">Strictly between 0 and 1.</param>
    /// <param name="seed">Any seed.</param>
    /// <param name="replications">Replications of each size.</param>
    /// <param name="mostNodes">The most nodes to try, 1 or more.</param>
    /// <param name="progress">Told how many sizes are done, and about how many there will be.</param>
    /// <param name="token">Ends it early.</param>
    public static FarmSizingResult Smallest(
        FarmScenario scenario,
        int nodeClass,
        long due,
        double probability,
        long seed,
        int replications,
        int mostNodes,
        Action<int, int>? progress = null,
        CancellationToken token = default)
    {
        Guard.InRange(nodeClass, 0, scenario.Nodes.Count - 1);
        Guard.Finite(probability, 1e-9, 1 - 1e-9);
        Guard.InRange(mostNodes, 1, FarmScenarioLimits.MostNodes);
        double division = FarmBounds.NodesByDivision(scenario, nodeClass, due);
        SortedDictionary<int, FarmSize> tried = [];
        int expected = (2 * (int)Math.Ceiling(Math.Log2(Math.Clamp(division, 2, mostNodes)))) + 4;

        bool Meets(int nodes)
        {
            if (!tried.TryGetValue(nodes, out FarmSize? size))
            {
                FarmScenario sized = scenario with { Nodes = [.. scenario.Nodes.Select((n, c) => c == nodeClass ? n with { Count = nodes } : n)] };
                FarmForecast forecast = FarmReplications.Run(sized, seed, replications, null, null, token);
                size = new(nodes, forecast.Finish(0.5), forecast.Finish(0.9), forecast.DoneBy(due), FarmBounds.Of(sized));
                tried.Add(nodes, size);
                progress?.Invoke(tried.Count, Math.Max(expected, tried.Count));
            }

            return size.OnTime.Value >= probability;
        }

        int failing = 0;
        int passing = Math.Clamp((int)Math.Ceiling(Math.Min(division, mostNodes)), 1, mostNodes);
        for (int step = 1; !Meets(passing); step *= 2)
        {
            if (passing == mostNodes)
            {
                return Result(null, tried, probability, division, scenario);
            }

            failing = passing;
            passing = Math.Min(mostNodes, passing + step);
        }

        for (int step = 1; failing == 0 && passing > 1; step *= 2)
        {
            int smaller = Math.Max(1, passing - step);
            if (!Meets(smaller))
            {
                failing = smaller;
                break;
            }

            passing = smaller;
        }

        while (passing - failing > 1)
        {
            int middle = failing + ((passing - failing) / 2);
            (failing, passing) = Meets(middle) ? (failing, middle) : (middle, passing);
        }

        foreach (int beside in new[] { passing - 2, passing - 1, passing + 1, passing + 2 }.Where(n => n >= 1 && n <= mostNodes))
        {
            Meets(beside);
        }

        return Result(passing, tried, probability, division, scenario);
    }

    private static FarmSizingResult Result(
        int? nodes, SortedDictionary<int, FarmSize> tried, double probability, double division, FarmScenario scenario)
    {
        FarmSize[] sizes = [.. tried.Values];
        bool decided = nodes is int n
            && tried[n].OnTime.Low >= probability
            && (n == 1 || tried[n - 1].OnTime.High < probability);
        bool anomaly = sizes.Zip(sizes.Skip(1)).Any(pair => pair.Second.FinishP50 > pair.First.FinishP50 * (1 + AnomalyPart));
        (double useful, FluidLimit limit) = FarmBounds.UsefulNodes(scenario);
        return new(nodes, sizes, decided, division, useful, limit, anomaly);
    }
}
