using PostPipeline.Quantities.Randomness;

namespace PostPipeline.Farms.Simulations;

/// <summary>What chance decides in a replication, by class, node and task: the same in every way of running it.</summary>
internal static class FarmDraws
{
    /// <summary>The factor that all tasks of a class share.</summary>
    public static double SharedFactor(FarmPlan plan, long seed, int replication, int jobClass)
    {
        ref readonly PlannedClass kind = ref plan.Classes[jobClass];
        return kind.SharedLogSd == 0
            ? 1
            : Math.Exp(kind.SharedLogSd * NormalDistribution.Quantile(TaskRandom.Units(seed, RandomPurpose.SharedError, replication, kind.ErrorEntity, 0).First));
    }

    /// <summary>By how much a node is slow.</summary>
    public static double SlowFactor(FarmPlan plan, long seed, int replication, int node)
    {
        NodeClass kind = plan.Scenario.Nodes[plan.NodeClasses[node]];
        if (kind.SlowProbability == 0)
        {
            return 1;
        }

        (double slow, double how) = TaskRandom.Units(seed, RandomPurpose.Nodes, replication, plan.NodeEntities[node], 0);
        return slow < kind.SlowProbability ? kind.SlowFactorLow + (how * (kind.SlowFactorHigh - kind.SlowFactorLow)) : 1;
    }

    /// <summary>The factor of one task.</summary>
    public static double TaskFactor(long seed, int replication, int task, double logSd) =>
        Math.Exp(logSd * NormalDistribution.Quantile(TaskRandom.Units(seed, RandomPurpose.Durations, replication, task, 0).First));

    /// <summary>Whether an attempt fails.</summary>
    /// <param name="seed">The seed.</param>
    /// <param name="replication">The replication.</param>
    /// <param name="kind">The job class.</param>
    /// <param name="task">The task.</param>
    /// <param name="block">The attempt, or what stands for a copy's.</param>
    /// <param name="mended">Whether somebody has mended the task.</param>
    public static bool Fails(long seed, int replication, in PlannedClass kind, int task, int block, bool mended)
    {
        (double attempt, double broken) = TaskRandom.Units(seed, RandomPurpose.Failures, replication, task, block);
        if (!mended && kind.BrokenProbability > 0)
        {
            if (block != 0)
            {
                broken = TaskRandom.Units(seed, RandomPurpose.Failures, replication, task, 0).Second;
            }

            if (broken < kind.BrokenProbability)
            {
                return true;
            }
        }

        return attempt < kind.FailureProbability;
    }
}
