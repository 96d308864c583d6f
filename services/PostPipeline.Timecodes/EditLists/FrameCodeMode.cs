namespace PostPipeline.Timecodes.EditLists;

/// <summary>The frame-code mode that an edit list states, and may change, down its lines (SMPTE ST 258, the FCM statement).</summary>
public enum FrameCodeMode
{
    /// <summary>No statement came before this line.</summary>
    Unstated = 0,

    /// <summary>Labels count every frame number.</summary>
    NonDrop = 1,

    /// <summary>Labels skip numbers at minute borders (SMPTE ST 12-1).</summary>
    Drop = 2,
}
