namespace PostPipeline.Timecodes;

/// <summary>What stays the same when a label is carried to another rate; the caller has to say.</summary>
public enum ConversionBasis
{
    /// <summary>The count of frames from the anchor: the same pictures played at another rate, one label each.</summary>
    FrameCount,

    /// <summary>The true time since the anchor: another recorder's label at the same instant.</summary>
    ElapsedTime,
}
