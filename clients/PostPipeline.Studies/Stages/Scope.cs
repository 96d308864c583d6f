namespace PostPipeline.Studies.Stages;

/// <summary>
/// What one draw knows while its stages are walked: inputs, the material scaled to the drawn hours, and what each stage
/// has done. One per thread, used over and over, so that a draw allocates nothing.
/// </summary>
internal sealed class Scope(int inputs, int strands, int days, int mostStages)
{
    /// <summary>The drawn inputs, with what-if changes applied.</summary>
    public double[] X { get; } = new double[inputs];

    /// <summary>Drawn hours over planned hours, by strand.</summary>
    public double[] Factor { get; } = new double[strands];

    /// <summary>Farm work of a planned frame, by strand, for the stage that is being walked.</summary>
    public double[] Weight { get; } = new double[strands];

    /// <summary>When each shoot day's material is where post works, s.</summary>
    public long[] Ready { get; } = new long[days];

    /// <summary>Recorded hours by shoot day.</summary>
    public double[] DayHours { get; } = new double[days];

    /// <summary>All bytes of the originals.</summary>
    public double Bytes { get; set; }

    /// <summary>All recorded frames.</summary>
    public double Frames { get; set; }

    /// <summary>All recorded hours.</summary>
    public double Hours { get; set; }

    /// <summary>The least rest between a day's last card and the next call, s.</summary>
    public double LeastRest { get; set; }

    /// <summary>When the last day's cards are done, s.</summary>
    public long OffloadEnd { get; set; }

    /// <summary>Whether the lock slips as drawn, or holds.</summary>
    public bool LockSlips { get; set; }

    /// <summary>Whether the lock date, not the material, ended the edit.</summary>
    public bool LockDecides { get; set; }

    /// <summary>Days of delay by the tag that named events hit.</summary>
    public double[] Delay { get; } = new double[StageTags.Count];

    /// <summary>Seconds by which named events hold up the shoot and its offload.</summary>
    public long ShootDelay { get; set; }

    /// <summary>Money that named events cost.</summary>
    public double EventCost { get; set; }

    /// <summary>A uniform number for the farm's own noise.</summary>
    public double FarmLuck { get; set; }

    /// <summary>A uniform number for rounds of review.</summary>
    public double ReviewLuck { get; set; }

    /// <summary>
    /// The delay of the shoot for which this draw's leading stages, the same in every pipeline, stand walked; none where
    /// they are not.
    /// </summary>
    public long? LeadingFor { get; set; }

    /// <summary>Start of each stage, s.</summary>
    public long[] Start { get; } = new long[mostStages];

    /// <summary>Finish of each stage, s.</summary>
    public long[] Finish { get; } = new long[mostStages];

    /// <summary>By stage and shoot day, for stages that keep it: when the day's material was done, s.</summary>
    public long[][] DayDone { get; } = [.. Enumerable.Range(0, mostStages).Select(_ => new long[days])];

    /// <summary>Busy node-seconds or person-seconds of each stage.</summary>
    public double[] Busy { get; } = new double[mostStages];
}
