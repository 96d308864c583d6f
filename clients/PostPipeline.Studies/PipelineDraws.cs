using PostPipeline.Studies.Stages;

namespace PostPipeline.Studies;

/// <summary>One pipeline's draws.</summary>
public sealed class PipelineDraws
{
    private readonly int[] critical;

    internal PipelineDraws(PipelinePlan plan, int draws, bool detail)
    {
        Name = plan.Name;
        Stages = [.. plan.Stages.Select(s => s.Name)];
        CostItems = [.. plan.Costs.Select(c => c.Name)];
        (Delivered, DeliveredIfLockHolds, Locked, FarmFinish) = (new double[draws], new double[draws], new double[draws], new double[draws]);
        (Cost, OnlinePeak, NearlinePeak, NodeHours, PeopleHours) = (new double[draws], new double[draws], new double[draws], new double[draws], new double[draws]);
        critical = new int[plan.Stages.Length];
        if (detail)
        {
            StageStart = [.. plan.Stages.Select(_ => new double[draws])];
            StageFinish = [.. plan.Stages.Select(_ => new double[draws])];
            StageWork = [.. plan.Stages.Select(_ => new double[draws])];
            StageDelay = [.. plan.Stages.Select(_ => new double[draws])];
            Costs = [.. plan.Costs.Select(_ => new double[draws])];
            Amounts = [.. plan.Costs.Select(_ => new double[draws])];
            Sizes = [.. plan.Generations.Select(_ => new double[draws])];
        }
    }

    /// <summary>The pipeline.</summary>
    public string Name { get; }

    /// <summary>Its stages in order.</summary>
    public IReadOnlyList<string> Stages { get; }

    /// <summary>Its cost lines in order.</summary>
    public IReadOnlyList<string> CostItems { get; }

    /// <summary>Accepted delivery with lock slip.</summary>
    public double[] Delivered { get; }

    /// <summary>Accepted delivery if the lock date holds.</summary>
    public double[] DeliveredIfLockHolds { get; }

    /// <summary>When the picture is locked.</summary>
    public double[] Locked { get; }

    /// <summary>When the farm has converted the last of the material; the end of the shoot where it converts nothing.</summary>
    public double[] FarmFinish { get; }

    /// <summary>Money, exact to a hundredth.</summary>
    public double[] Cost { get; }

    /// <summary>The online peak.</summary>
    public double[] OnlinePeak { get; }

    /// <summary>The nearline peak.</summary>
    public double[] NearlinePeak { get; }

    /// <summary>Node-hours.</summary>
    public double[] NodeHours { get; }

    /// <summary>Person-hours.</summary>
    public double[] PeopleHours { get; }

    /// <summary>By stage, where detail was asked for: its starts.</summary>
    public IReadOnlyList<double[]> StageStart { get; } = [];

    /// <summary>By stage, where detail was asked for: its finishes.</summary>
    public IReadOnlyList<double[]> StageFinish { get; } = [];

    /// <summary>
    /// By stage, where detail was asked for: its work, s of the reference node or of a person, bytes for a link; 0 for a stage
    /// that only lasts.
    /// </summary>
    public IReadOnlyList<double[]> StageWork { get; } = [];

    /// <summary>By stage, where detail was asked for: by how much named events hold it up, s.</summary>
    public IReadOnlyList<double[]> StageDelay { get; } = [];

    /// <summary>By cost line, where detail was asked for: money.</summary>
    public IReadOnlyList<double[]> Costs { get; } = [];

    /// <summary>By cost line, where detail was asked for: the amount bought.</summary>
    public IReadOnlyList<double[]> Amounts { get; } = [];

    /// <summary>By generation, where detail was asked for: its bytes.</summary>
    public IReadOnlyList<double[]> Sizes { get; } = [];

    /// <summary>In how many draws each stage stood on the chain that set the delivery.</summary>
    public IReadOnlyList<int> Critical => critical;

    /// <summary>Adds one thread's counts; whole numbers, so that their order does not matter.</summary>
    internal void KeepCritical(int[] counts)
    {
        for (int i = 0; i < counts.Length; i++)
        {
            Interlocked.Add(ref critical[i], counts[i]);
        }
    }

    internal void Keep(int draw, PipelinePlan plan, Scope scope, PipelineResult result)
    {
        Delivered[draw] = result.Delivered;
        DeliveredIfLockHolds[draw] = result.DeliveredIfLockHolds;
        OnlinePeak[draw] = result.OnlinePeak;
        NearlinePeak[draw] = result.NearlinePeak;
        FarmFinish[draw] = plan.FarmStage >= 0 ? scope.Finish[plan.FarmStage] : scope.Finish[0];
        double nodeSeconds = 0;
        double personSeconds = 0;
        double perNode = plan.NodesPerSpeed(scope);
        for (int i = 0; i < plan.Stages.Length; i++)
        {
            Stage stage = plan.Stages[i];
            if (stage is EditStage)
            {
                Locked[draw] = scope.Finish[i];
            }

            nodeSeconds += stage.IsFarm ? scope.Busy[i] : 0;
            personSeconds += stage.IsPeople ? scope.Busy[i] : 0;
        }

        NodeHours[draw] = nodeSeconds / 3600 * perNode;
        PeopleHours[draw] = personSeconds / 3600;
        long hundredths = 0;
        for (int c = 0; c < plan.Costs.Length; c++)
        {
            CostItem item = plan.Costs[c];
            double amount = item.Amount(scope, result);
            double money = Math.Round(amount * (item.Price >= 0 ? scope.X[item.Price] : 1) * 100);
            hundredths += (long)Math.Min(money, 1e17);
            if (Costs.Count > 0)
            {
                Costs[c][draw] = money / 100;
                Amounts[c][draw] = amount;
            }
        }

        Cost[draw] = hundredths / 100.0;
        for (int i = 0; i < StageStart.Count; i++)
        {
            StageStart[i][draw] = scope.Start[i];
            StageFinish[i][draw] = scope.Finish[i];
            StageWork[i][draw] = scope.Busy[i];
            StageDelay[i][draw] = plan.Stages[i].Tag >= 0 ? scope.Delay[plan.Stages[i].Tag] * Calendar.Day : 0;
        }

        for (int g = 0; g < Sizes.Count; g++)
        {
            Sizes[g][draw] = plan.Generations[g].Bytes(scope);
        }
    }
}
