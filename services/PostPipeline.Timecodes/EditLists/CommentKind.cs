namespace PostPipeline.Timecodes.EditLists;

/// <summary>What a line below an event says.</summary>
public enum CommentKind
{
    /// <summary>Free text behind an asterisk.</summary>
    Remark = 0,

    /// <summary>FROM CLIP NAME: the clip of this event, or of the outgoing side of a transition.</summary>
    FromClipName = 1,

    /// <summary>TO CLIP NAME: the clip of the incoming side of a transition.</summary>
    ToClipName = 2,

    /// <summary>KEY CLIP NAME: the clip of a keyed foreground.</summary>
    KeyClipName = 3,

    /// <summary>SOURCE FILE: the file that the clip came from.</summary>
    SourceFile = 4,

    /// <summary>LOC: a marker with its record label, colour and text.</summary>
    Marker = 5,

    /// <summary>A line without asterisk that is no statement known here; kept word for word.</summary>
    OtherStatement = 6,
}
