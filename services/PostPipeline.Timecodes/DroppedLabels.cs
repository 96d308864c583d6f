namespace PostPipeline.Timecodes;

/// <summary>What to do with a label such as <c>00:01:00;00</c>, which drop-frame numbering leaves out.</summary>
public enum DroppedLabels
{
    /// <summary>It names no frame, so it is an error.</summary>
    Refuse,

    /// <summary>Take the first label of that minute that exists: <c>00:01:00;00</c> becomes <c>00:01:00;02</c>.</summary>
    SnapForward,
}
