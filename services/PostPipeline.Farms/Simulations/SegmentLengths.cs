using System.Runtime.CompilerServices;

namespace PostPipeline.Farms.Simulations;

/// <summary>
/// How long a segment takes on a node in one replication. Whole segments of a job take equally long on a node when there is
/// no spread, so the last length is kept.
/// </summary>
internal sealed class SegmentLengths
{
    private readonly FarmPlan plan;

    // The node whose lengths are a node's own too: the first of its class, where no node of the class can be slow.
    private readonly int[] groupOf;
    private readonly Holding[] holdings;
    private readonly double[] sharedFactor;
    private long seed;
    private int replication;

    public SegmentLengths(FarmPlan plan)
    {
        this.plan = plan;
        groupOf = [.. plan.NodeClasses.Select((c, n) => plan.Scenario.Nodes[c].SlowProbability > 0 ? n : Array.IndexOf(plan.NodeClasses, c))];
        holdings = new Holding[groupOf.Length];
        sharedFactor = new double[plan.Classes.Length];
    }

    /// <summary>Draws what holds for a whole replication: slow nodes, and factors that the tasks of a class share.</summary>
    public void Reset(long seed, int replication)
    {
        this.seed = seed;
        this.replication = replication;
        for (int c = 0; c < sharedFactor.Length; c++)
        {
            sharedFactor[c] = FarmDraws.SharedFactor(plan, seed, replication, c);
        }

        for (int n = 0; n < holdings.Length; n++)
        {
            holdings[n].KnownJob = -1;
            holdings[n].SlowFactor = FarmDraws.SlowFactor(plan, seed, replication, n);
        }
    }

    /// <summary>Whether all segments of a job but the last take equally long on a node.</summary>
    public bool AreEven(int number) => plan.Jobs[number].PreRoll == 0 && plan.Classes[plan.Jobs[number].Class].TaskLogSd == 0;

    /// <summary>Writes how long a whole segment of an even job takes on each node, in microseconds.</summary>
    public void Fill(long[] ofNodes, int number)
    {
        for (int n = 0; n < ofNodes.Length; n++)
        {
            ofNodes[n] = groupOf[n] == n ? Of(n, number, 0, false) : ofNodes[groupOf[n]];
        }
    }

    /// <summary>The length of an attempt in microseconds.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public long Of(int node, int number, int segment, bool fails)
    {
        ref Holding holding = ref holdings[groupOf[node]];
        ref readonly PlannedJob job = ref plan.Jobs[number];
        bool whole = segment < job.Segments - 1 && !fails;
        return whole && holding.KnownJob == number ? holding.KnownLength : Worked(ref holding, in job, node, number, segment, whole, fails);
    }

    [MethodImpl(MethodImplOptions.NoInlining)]
    private long Worked(ref Holding holding, in PlannedJob job, int node, int number, int segment, bool whole, bool fails)
    {
        ref readonly PlannedClass kind = ref plan.Classes[job.Class];
        long before = segment * job.SegmentFrames;
        long rendered = Math.Min(job.SegmentFrames, job.Frames - before) + Math.Min(job.PreRoll, before);
        double work = rendered * job.MicrosecondsPerFrame * plan.TimeFactors[plan.NodeClasses[node]][job.Class] * holding.SlowFactor * sharedFactor[job.Class];
        if (kind.TaskLogSd > 0)
        {
            work *= FarmDraws.TaskFactor(seed, replication, job.FirstTask + segment, kind.TaskLogSd);
        }

        double overhead = job.Overhead;
        if (fails)
        {
            work *= kind.FailurePoint;
            overhead *= kind.FailurePoint;
        }

        // Both are far below 2⁶³: the scenario's checks see to it.
        long length = unchecked((long)(overhead + 0.5) + (long)(work + 0.5));
        if (whole && kind.TaskLogSd == 0 && job.PreRoll == 0)
        {
            (holding.KnownJob, holding.KnownLength) = (number, length);
        }

        return length;
    }

    private struct Holding
    {
        public double SlowFactor;
        public long KnownLength;
        public int KnownJob;
    }
}
