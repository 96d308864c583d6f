using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Farms;
using PostPipeline.Hosting.Validation;
using Maintenance = PostPipeline.Farms.Maintenance;
using NodeClass = PostPipeline.Contracts.Rendering.V1.NodeClass;

namespace PostPipeline.Rendering.Service.Farms;

/// <summary>Reads node classes and their maintenance from a request.</summary>
internal sealed class NodeReader(Violations violations, ClockReader clock)
{
    /// <summary>The place of a node class by its label; 0, with a violation, where there is none.</summary>
    public int Index(Farm farm, string label, FieldPath path)
    {
        for (int i = 0; i < farm.NodeClasses.Count; i++)
        {
            if (farm.NodeClasses[i].Label == label)
            {
                return i;
            }
        }

        violations.Add(path, $"is \"{label}\"; allowed is the label of a node class");
        return 0;
    }

    /// <summary>A node class.</summary>
    /// <param name="node">The class as the request has it.</param>
    /// <param name="jobLabels">The labels of the job classes, in the scenario's order.</param>
    /// <param name="at">Where it stands.</param>
    public PostPipeline.Farms.NodeClass Class(NodeClass node, IReadOnlyList<string> jobLabels, FieldPath at)
    {
        violations.Length(at["label"], node.Label, 0, FarmReader.MostLabel);
        violations.InRange(at["count"], node.Count, 0, FarmScenarioLimits.MostNodes);
        violations.InRange(at["speed"], node.Speed, 0, 1e6);
        violations.InRange(at["slow_probability"], node.SlowProbability, 0, 1);
        double low = node.SlowFactorLow == 0 ? 1.3 : node.SlowFactorLow;
        double high = node.SlowFactorHigh == 0 ? Math.Max(low, 3) : node.SlowFactorHigh;
        violations.InRange(at["slow_factor_low"], low, 1, 1000);
        violations.InRange(at["slow_factor_high"], high, low, 1000);
        foreach ((string label, double speed) in node.SpeedByJobClass)
        {
            violations.InRange(at[$"speed_by_job_class[{label}]"], speed, 0, 1e6);
        }

        double general = node.Speed == 0 ? 1 : node.Speed;
        return new()
        {
            Name = node.Label,
            Count = node.Count,
            TimeFactors = [.. jobLabels.Select(l => node.SpeedByJobClass.TryGetValue(l, out double s) ? (s > 0 ? 1 / s : 0) : 1 / general)],
            Open = clock.Windows(node.Windows, at["windows"]),
            SlowProbability = node.SlowProbability,
            SlowFactorLow = low,
            SlowFactorHigh = high,
            MeanUpMicroseconds = clock.Microseconds(at["mean_up_seconds"], node.MeanUpSeconds),
            MeanDownMicroseconds = clock.Microseconds(at["mean_down_seconds"], node.MeanDownSeconds),
        };
    }

    /// <summary>Maintenance of a node class; none, with a violation, where it has no window.</summary>
    public Maintenance Maintenance(Farm farm, PostPipeline.Contracts.Rendering.V1.Maintenance m, FieldPath path)
    {
        violations.InRange(path["nodes"], m.Nodes, 0, FarmScenarioLimits.MostNodes);
        if (violations.Present(path["window"], m.Window) && clock.Window(m.Window, path["window"]) is (long from, long until))
        {
            return new(Index(farm, m.NodeClass, path["node_class"]), Math.Max(0, m.Nodes), from, until);
        }

        return new(0, 0, 0, 0);
    }
}
