namespace PostPipeline.Studies.Stages;

/// <summary>What one pipeline gave in one draw; one per thread, used over and over.</summary>
internal sealed class PipelineResult
{
    public long DeliveredIfLockHolds { get; set; }

    public long Delivered { get; set; }

    public double OnlinePeak { get; set; }

    public double NearlinePeak { get; set; }

    public long OnlinePeakAt { get; set; }

    /// <summary>Bytes times seconds online, over all generations.</summary>
    public double OnlineByteSeconds { get; set; }

    /// <summary>Bytes times seconds nearline.</summary>
    public double NearlineByteSeconds { get; set; }

    public double Tapes { get; set; }

    /// <summary>Money in hundredths, whole, so that sums are exact.</summary>
    public long CostHundredths { get; set; }
}
