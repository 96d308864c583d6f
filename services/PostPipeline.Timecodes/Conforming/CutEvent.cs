using PostPipeline.Quantities;
using PostPipeline.Timecodes.EditLists;

namespace PostPipeline.Timecodes.Conforming;

/// <summary>One event of a cut whose labels have become frame counts, whichever file format it came from.</summary>
public sealed record CutEvent
{
    /// <summary>The event number as written; empty where the format has none.</summary>
    public string Number { get; init; } = string.Empty;

    /// <summary>The line of the file, from 1; 0 where there is none.</summary>
    public int Line { get; init; }

    /// <summary>The tracks as written, for example V.</summary>
    public string Tracks { get; init; } = "V";

    /// <summary>The reel; empty where it is not said.</summary>
    public string Reel { get; init; } = string.Empty;

    /// <summary>The clip name; empty where it is not said.</summary>
    public string ClipName { get; init; } = string.Empty;

    /// <summary>The identifier of the camera; empty where it is not said.</summary>
    public string Camera { get; init; } = string.Empty;

    /// <summary>The day of the recording; null where it is not said.</summary>
    public DateOnly? Date { get; init; }

    /// <summary>What kind of source it is.</summary>
    public SourceKind Source { get; init; }

    /// <summary>Rate and numbering of the source labels.</summary>
    public required TimecodeFormat SourceFormat { get; init; }

    /// <summary>Frame index of the first source label in its label day.</summary>
    public long SourceIn { get; init; }

    /// <summary>Source frames as the list has them; 0 or more.</summary>
    public long SourceFrames { get; init; }

    /// <summary>Frame index of the first record label.</summary>
    public long RecordIn { get; init; }

    /// <summary>Record frames; 0 or more.</summary>
    public long RecordFrames { get; init; }

    /// <summary>The frame after the last record frame; above the label day where the event runs over midnight.</summary>
    public long RecordOut => RecordIn + RecordFrames;

    /// <summary>Source frames per record frame; negative in reverse, 0 for a held frame.</summary>
    public Rational Speed { get; init; } = Rational.One;

    /// <summary>How the speed is known.</summary>
    public SpeedOrigin SpeedOrigin { get; init; }

    /// <summary>Where a motion line enters the source, as a frame index; null where nothing says it.</summary>
    public long? EntryFrame { get; init; }

    /// <summary>How the event comes in.</summary>
    public EditTransition Transition { get; init; }

    /// <summary>Record frames beyond the event's end that a following transition still takes from its source.</summary>
    public long TailRecordFrames { get; init; }

    /// <summary>Whether any picture of a clip is needed.</summary>
    public bool NeedsPictures => Source == SourceKind.Clip && RecordFrames + TailRecordFrames > 0;

    /// <summary>The source frames that the event needs, handles included.</summary>
    /// <param name="handleRecordFrames">Frames before and behind, counted on the record side: they grow with the speed.</param>
    /// <returns>
    /// The first frame, counted in the label day of the source and possibly below 0 or above its end; and how many.
    /// </returns>
    public SourceSpan Need(long handleRecordFrames = 0)
    {
        if (!NeedsPictures)
        {
            return new(SourceIn, 0);
        }

        if (Speed.Sign == 0)
        {
            return new(EntryFrame ?? SourceIn, 1);
        }

        Rational magnitude = Speed.Sign < 0 ? -Speed : Speed;
        long tail = TailRecordFrames == 0 ? 0 : Scaled(TailRecordFrames, magnitude);
        long played = Scaled(RecordFrames + TailRecordFrames, magnitude);
        long frames = Math.Max(SourceFrames + tail, played);
        long handle = handleRecordFrames == 0 ? 0 : Scaled(handleRecordFrames, magnitude);
        long first = Speed.Sign < 0 ? SourceIn + SourceFrames - frames : SourceIn;
        return new(first - handle, frames + (2 * handle));
    }

    private static long Scaled(long recordFrames, Rational magnitude) =>
        magnitude == Rational.One ? recordFrames : (recordFrames * magnitude).Ceiling();
}
