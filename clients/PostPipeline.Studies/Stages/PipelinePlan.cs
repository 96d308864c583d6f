namespace PostPipeline.Studies.Stages;

/// <summary>A pipeline as a graph of stages in an order that respects what each waits for, with what it stores and costs.</summary>
internal sealed class PipelinePlan
{
    public PipelinePlan(
        string name,
        IReadOnlyList<Stage> stages,
        IReadOnlyList<Generation> generations,
        IReadOnlyList<CostItem> costs,
        int farmStage,
        int renderStage,
        Func<Scope, double> keepSeconds,
        Func<Scope, double> nodesPerSpeed)
    {
        (Name, Stages, Generations, Costs, FarmStage, RenderStage, KeepSeconds) = (name, [.. stages], [.. generations], [.. costs], farmStage, renderStage, keepSeconds);
        NodesPerSpeed = nodesPerSpeed;
        foreach (Stage stage in Stages)
        {
            stage.HangsOnLock = stage is EditStage || stage.After.Any(a => Stages[a].HangsOnLock);
        }
    }

    public string Name { get; }

    public Stage[] Stages { get; }

    public Generation[] Generations { get; }

    public CostItem[] Costs { get; }

    /// <summary>Place of the stage that converts the material on the farm; −1 where there is none.</summary>
    public int FarmStage { get; }

    /// <summary>The kind of work that it does; empty where there is none.</summary>
    public string FarmKind { get; init; } = string.Empty;

    /// <summary>The share of a strand's frames that it converts.</summary>
    public Func<Scope, int, double>? FarmShare { get; init; }

    /// <summary>The kind of work of the final render.</summary>
    public required string RenderKind { get; init; }

    /// <summary>Place of the final render.</summary>
    public int RenderStage { get; }

    public Func<Scope, double> KeepSeconds { get; }

    /// <summary>Nodes for a reference node's worth of speed, in a draw.</summary>
    public Func<Scope, double> NodesPerSpeed { get; }

    /// <summary>How many stages at the front are the same in every pipeline of the brief; only the shoot's delay tells draws of them apart.</summary>
    public int Leading { get; init; }

    /// <summary>Walks all stages, first with the lock held, then with it slipping; the scope keeps the second walk.</summary>
    public void Compute(Scope scope, PipelineResult result)
    {
        scope.LockSlips = false;
        WalkAll(scope);
        result.DeliveredIfLockHolds = scope.Finish[Stages.Length - 1];
        scope.LockSlips = true;
        Walk(scope, Leading, onlyAfterLock: true);
        result.Delivered = scope.Finish[Stages.Length - 1];
        Occupy(scope, result);
    }

    /// <summary>When the pipeline delivers with the lock slipping: the same as of <see cref="Compute"/>, in one walk and without occupancy.</summary>
    public long Delivered(Scope scope)
    {
        scope.LockSlips = true;
        WalkAll(scope);
        return scope.Finish[Stages.Length - 1];
    }

    /// <summary>The critical chain of the walk that the scope keeps, from the last stage back.</summary>
    public void CriticalChain(Scope scope, Span<int> counts)
    {
        int stage = Stages.Length - 1;
        while (true)
        {
            counts[stage]++;
            int[] after = Stages[stage].After;
            if (after.Length == 0)
            {
                return;
            }

            int latest = after[0];
            for (int i = 1; i < after.Length; i++)
            {
                latest = scope.Finish[after[i]] > scope.Finish[latest] ? after[i] : latest;
            }

            // The edit waits for its lock date, not for material, where the date is the later of the two.
            if (Stages[stage] is EditStage && scope.LockDecides)
            {
                return;
            }

            stage = latest;
        }
    }

    // Leading stages that another pipeline has walked for this draw, under the same delay, stand already.
    private void WalkAll(Scope scope)
    {
        Walk(scope, scope.LeadingFor == scope.ShootDelay ? Leading : 0, onlyAfterLock: false);
        scope.LeadingFor = scope.ShootDelay;
    }

    private void Walk(Scope scope, int first, bool onlyAfterLock)
    {
        for (int i = first; i < Stages.Length; i++)
        {
            Stage stage = Stages[i];
            if (onlyAfterLock && !stage.HangsOnLock)
            {
                continue;
            }

            long start = 0;
            foreach (int before in stage.After)
            {
                start = Math.Max(start, scope.Finish[before]);
            }

            scope.Start[i] = start;
            scope.Finish[i] = Math.Min(Calendar.Never, stage.Finish(scope, i, start));
        }
    }

    // The curve is piecewise linear with steps down, so the highest point of a tier lies where one of its generations is
    // complete, or just before one is deleted.
    private void Occupy(Scope scope, PipelineResult result)
    {
        long accepted = (long)(result.Delivered + KeepSeconds(scope));
        Span<double> size = stackalloc double[Generations.Length];
        Span<long> from = stackalloc long[Generations.Length];
        Span<long> complete = stackalloc long[Generations.Length];
        Span<long> gone = stackalloc long[Generations.Length];
        Span<double> area = [0, 0];
        for (int g = 0; g < Generations.Length; g++)
        {
            Generation generation = Generations[g];
            size[g] = generation.Bytes(scope);
            from[g] = scope.Start[generation.Stage];
            complete[g] = scope.Finish[generation.Stage];
            gone[g] = Math.Max(complete[g], generation.GoneAfter >= 0 ? scope.Finish[generation.GoneAfter] : accepted);
            area[generation.Tier] += size[g] * (gone[g] - complete[g] + (0.5 * (complete[g] - from[g])));
        }

        (result.OnlinePeak, result.OnlinePeakAt) = Peak(0, size, from, complete, gone);
        (result.NearlinePeak, _) = Peak(1, size, from, complete, gone);
        (result.OnlineByteSeconds, result.NearlineByteSeconds) = (area[0], area[1]);
    }

    private (double Bytes, long At) Peak(int tier, ReadOnlySpan<double> size, ReadOnlySpan<long> from, ReadOnlySpan<long> complete, ReadOnlySpan<long> gone)
    {
        (double most, long at) = (0, 0);
        for (int c = 0; c < 2 * Generations.Length; c++)
        {
            int corner = c / 2;
            if (Generations[corner].Tier != tier)
            {
                continue;
            }

            long time = c % 2 == 0 ? complete[corner] : gone[corner];
            double held = 0;
            for (int g = 0; g < Generations.Length; g++)
            {
                if (Generations[g].Tier == tier && time <= gone[g] && time > from[g])
                {
                    held += time >= complete[g] ? size[g] : size[g] * (time - from[g]) / (complete[g] - from[g]);
                }
            }

            if (held > most)
            {
                (most, at) = (held, time);
            }
        }

        return (most, at);
    }
}
