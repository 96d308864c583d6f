namespace PostPipeline.Timecodes.EditLists;

/// <summary>The transition of an event line: its kind, the wipe pattern, the duration and the fade flag.</summary>
/// <param name="Kind">How the event comes in.</param>
/// <param name="WipeCode">The number of the wipe pattern; 0 unless the kind is a wipe.</param>
/// <param name="DurationFrames">Frames on the record side, 0 or more; 0 for a cut.</param>
/// <param name="Fade">Whether a key event carries the fade flag, written (F).</param>
public readonly record struct EditTransition(TransitionKind Kind, int WipeCode, int DurationFrames, bool Fade)
{
    /// <summary>The largest duration read, in frames.</summary>
    public const int MaximumDurationFrames = 999_999;

    /// <summary>A cut.</summary>
    public static EditTransition Cut => default;

    /// <summary>Whether two sources are on screen together while it lasts, so that the outgoing side needs more frames.</summary>
    public bool MixesTwoSources => Kind is TransitionKind.Dissolve or TransitionKind.Wipe && DurationFrames > 0;

    /// <summary>The letters that an edit list uses: C, D, W001, K B, K, K O.</summary>
    public string Letters => Kind switch
    {
        TransitionKind.Cut => "C",
        TransitionKind.Dissolve => "D",
        TransitionKind.Wipe => $"W{WipeCode:D3}",
        TransitionKind.KeyBackground => "K B",
        TransitionKind.KeyIn => "K",
        TransitionKind.KeyOut => "K O",
        _ => throw new InvalidOperationException($"The transition kind is {Kind}; allowed is a defined kind."),
    };
}
