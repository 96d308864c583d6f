namespace PostPipeline.Timecodes.LinearTimecode;

/// <summary>Why eighty bits are not a label.</summary>
public enum LtcFault
{
    /// <summary>Nothing is wrong.</summary>
    None,

    /// <summary>There are not ten bytes.</summary>
    Length,

    /// <summary>Bits 64 to 79 are not the synchronising word.</summary>
    SyncWord,

    /// <summary>Four bits of a decimal digit say 10 or more.</summary>
    Digit,

    /// <summary>Hours are above 23.</summary>
    Hours,

    /// <summary>Minutes are above 59.</summary>
    Minutes,

    /// <summary>Seconds are above 59.</summary>
    Seconds,

    /// <summary>The frame number is not below the rate of the words.</summary>
    Frames,

    /// <summary>The drop-frame flag says otherwise than the format.</summary>
    DropFlag,

    /// <summary>Drop-frame numbering leaves this label out.</summary>
    Dropped,
}
