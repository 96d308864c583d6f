namespace PostPipeline.Timecodes;

/// <summary>Why a text or four numbers are not a label.</summary>
public enum LabelFault
{
    /// <summary>Nothing is wrong.</summary>
    None,

    /// <summary>The text is not of the form <c>HH:MM:SS:FF</c>.</summary>
    Form,

    /// <summary>A digit is expected.</summary>
    Digit,

    /// <summary>A separator is expected.</summary>
    Separator,

    /// <summary>A mark of drop-frame numbering stands in a label of a format without it.</summary>
    DropMark,

    /// <summary>Hours are above 23.</summary>
    Hours,

    /// <summary>Minutes are above 59.</summary>
    Minutes,

    /// <summary>Seconds are above 59.</summary>
    Seconds,

    /// <summary>The frame number is not below the nominal rate.</summary>
    Frames,

    /// <summary>Drop-frame numbering leaves this label out.</summary>
    Dropped,
}
