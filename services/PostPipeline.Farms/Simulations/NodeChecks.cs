namespace PostPipeline.Farms.Simulations;

/// <summary>Finds what is wrong with the nodes of a scenario and their maintenance.</summary>
internal static class NodeChecks
{
    public static void Find(FarmScenario s, ProblemList problems)
    {
        problems.Range("nodes", s.Nodes.Count, 1, FarmScenarioLimits.MostClasses, "node classes");
        long nodes = 0;
        for (int i = 0; i < s.Nodes.Count; i++)
        {
            NodeClass n = s.Nodes[i];
            string at = $"nodes[{i}]";
            problems.Range($"{at}.count", n.Count, 0, FarmScenarioLimits.MostNodes);
            nodes += Math.Max(0, n.Count);
            if (n.TimeFactors.Count != 0 && n.TimeFactors.Count != s.Classes.Count)
            {
                problems.Add($"{at}.time_factors", $"there are {n.TimeFactors.Count}; allowed is none, or one for each of {s.Classes.Count} job classes");
            }

            for (int k = 0; k < n.TimeFactors.Count; k++)
            {
                problems.Real($"{at}.time_factors[{k}]", n.TimeFactors[k], 0, 1e6);
            }

            problems.Real($"{at}.slow_probability", n.SlowProbability, 0, 1);
            problems.Real($"{at}.slow_factor_low", n.SlowFactorLow, 1, 1e3);
            problems.Real($"{at}.slow_factor_high", n.SlowFactorHigh, n.SlowFactorLow, 1e3);
            problems.Range($"{at}.mean_up_microseconds", n.MeanUpMicroseconds, 0, FarmClock.Longest);
            problems.Range($"{at}.mean_down_microseconds", n.MeanDownMicroseconds, 0, FarmClock.Longest);
            problems.Calendar($"{at}.open", n.Open);
        }

        problems.Range("nodes", nodes, 0, FarmScenarioLimits.MostNodes, "nodes in all classes");
        for (int i = 0; i < s.Maintenance.Count; i++)
        {
            Maintenance m = s.Maintenance[i];
            problems.Index($"maintenance[{i}].node_class", m.NodeClass, s.Nodes.Count, "node classes");
            problems.Range($"maintenance[{i}].nodes", m.Nodes, 0, FarmScenarioLimits.MostNodes);
            problems.Range($"maintenance[{i}].until_microseconds", m.UntilMicroseconds, m.FromMicroseconds, FarmClock.Longest);
        }
    }
}
