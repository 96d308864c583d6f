using System.Collections.Immutable;

namespace PostPipeline.Timecodes.EditLists;

/// <summary>
/// One event line of an edit list with what stands below it. A transition is written as two lines under one
/// number: the outgoing source, often of no length, then the incoming one; each is an event line here.
/// </summary>
/// <param name="Line">The line of the file, from 1; 0 for an event that was not read from a file.</param>
/// <param name="Number">The event number as written.</param>
/// <param name="Reel">The reel, or BL for black, AX for an auxiliary source.</param>
/// <param name="Tracks">The tracks as written: V, A, A2/V, B, NONE.</param>
/// <param name="Transition">How the event comes in.</param>
/// <param name="SourceIn">First source frame.</param>
/// <param name="SourceOut">The frame after the last source frame.</param>
/// <param name="RecordIn">First record frame.</param>
/// <param name="RecordOut">The frame after the last record frame.</param>
/// <param name="Mode">The frame-code mode in force at this line.</param>
/// <param name="Motions">Motion lines that apply to this event.</param>
/// <param name="Comments">Comments below this event, in order.</param>
public sealed record EditEvent(
    int Line,
    string Number,
    string Reel,
    string Tracks,
    EditTransition Transition,
    EditLabel SourceIn,
    EditLabel SourceOut,
    EditLabel RecordIn,
    EditLabel RecordOut,
    FrameCodeMode Mode,
    ImmutableArray<MotionEffect> Motions,
    ImmutableArray<EditComment> Comments)
{
    /// <summary>Whether the source is black.</summary>
    public bool IsBlack => Reel.Equals("BL", StringComparison.OrdinalIgnoreCase)
        || Reel.Equals("BLK", StringComparison.OrdinalIgnoreCase)
        || Reel.Equals("BLACK", StringComparison.OrdinalIgnoreCase);

    /// <summary>Whether the source is auxiliary: it has no reel that could be looked up.</summary>
    public bool IsAuxiliary => Reel.Equals("AX", StringComparison.OrdinalIgnoreCase);

    /// <summary>Whether the event carries pictures.</summary>
    public bool HasVideo => Tracks.Contains('V', StringComparison.OrdinalIgnoreCase)
        || Tracks.Equals("B", StringComparison.OrdinalIgnoreCase);

    /// <summary>The value of the first comment of a kind, or null.</summary>
    /// <param name="kind">The kind looked for.</param>
    public string? FirstValue(CommentKind kind)
    {
        foreach (EditComment comment in Comments)
        {
            if (comment.Kind == kind)
            {
                return comment.Value;
            }
        }

        return null;
    }

    /// <summary>Whether both events say the same, wherever they stood in their files.</summary>
    /// <param name="other">The event to compare with.</param>
    public bool MeansSameAs(EditEvent other) =>
        Number == other.Number && Reel == other.Reel && Tracks == other.Tracks && Transition == other.Transition
        && SourceIn == other.SourceIn && SourceOut == other.SourceOut && RecordIn == other.RecordIn && RecordOut == other.RecordOut
        && Mode == other.Mode && Motions.AsSpan().SequenceEqual(other.Motions.AsSpan()) && Comments.AsSpan().SequenceEqual(other.Comments.AsSpan());
}
