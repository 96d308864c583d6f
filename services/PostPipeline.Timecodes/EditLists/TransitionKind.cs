namespace PostPipeline.Timecodes.EditLists;

/// <summary>How an event comes in (SMPTE ST 258).</summary>
public enum TransitionKind
{
    /// <summary>C: at once.</summary>
    Cut = 0,

    /// <summary>D: mixed over a number of frames.</summary>
    Dissolve = 1,

    /// <summary>W: along a numbered wipe pattern, over a number of frames.</summary>
    Wipe = 2,

    /// <summary>K B: the background of a key.</summary>
    KeyBackground = 3,

    /// <summary>K: a foreground keyed in, over a number of frames.</summary>
    KeyIn = 4,

    /// <summary>K O: a foreground keyed out, over a number of frames.</summary>
    KeyOut = 5,
}
