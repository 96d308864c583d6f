namespace PostPipeline.Timecodes.Conforming;

/// <summary>What a class or finding means and what to do next, as a sentence for people.</summary>
public static class ConformAdvice
{
    /// <summary>What to do next about an event.</summary>
    /// <param name="match">The answer for the event.</param>
    public static string NextStep(in EventMatch match) => match.Class switch
    {
        ConformClass.Matched when (match.Findings & ConformFindings.ToConfirm) != 0 && match.Rung == MatchRung.TruncatedReel =>
            "Compare a frame of the original with the reference picture: the reel was cut off, so the match rests on one clip having these labels.",
        ConformClass.Matched when (match.Findings & ConformFindings.ToConfirm) != 0 && match.Rung == MatchRung.CameraOrDate =>
            "Compare a frame of the original with the reference picture: neither name nor reel agrees, only labels and camera or date.",
        ConformClass.Matched when (match.Findings & ConformFindings.ToConfirm) != 0 =>
            "Compare a frame of the original with the reference picture: the proxy does not carry the labels of its original.",
        ConformClass.Matched => "Nothing; the event can be pulled.",
        ConformClass.ShortHandles => "Pull what is there and tell the finishing editor how many handle frames there are.",
        ConformClass.SpeedToCheck => "Set the speed by hand in finishing and compare first, middle and last frame with the reference picture.",
        ConformClass.SeveralCandidates => "Find out which clip was meant: compare pictures, or give the list full clip names; then give one of the reels another name.",
        ConformClass.None when (match.Findings & ConformFindings.Auxiliary) != 0 => "Ask for the source: titles and generated pictures have no reel to look up.",
        ConformClass.None when (match.Findings & ConformFindings.NoLabels) != 0 => "Place it by eye: the clip of that name was recorded without labels.",
        ConformClass.None when (match.Findings & ConformFindings.ReelWithoutLabels) != 0 => "Look for a missing clip of that reel, or for wrong labels in the list.",
        ConformClass.None => "Look for the clip: it is not in the inventory under this name, reel or labels.",
        ConformClass.RateConflict => "Find out at which rate the labels were counted and export the list again at that rate; 24 and 24000/1001 number frames alike and part by 3.6 s an hour.",
        ConformClass.DropFlagConflict => "Export the list with the drop-frame setting of the recording; the numberings part by 108 numbers an hour at 30000/1001.",
        ConformClass.OutsideFile => "Check whether a longer file of the take exists; the list asks for frames that this one does not hold.",
        ConformClass.ChunkMissing => "Restore the missing file of the take from another copy and read the inventory again.",
        ConformClass.NotSought => "Nothing; no clip is needed.",
        _ => "A person looks.",
    };

    /// <summary>The class in plain words.</summary>
    /// <param name="value">The class.</param>
    public static string Describe(ConformClass value) => value switch
    {
        ConformClass.Matched => "matched",
        ConformClass.ShortHandles => "matched with short handles",
        ConformClass.SpeedToCheck => "speed change to check",
        ConformClass.SeveralCandidates => "several candidates",
        ConformClass.None => "none",
        ConformClass.RateConflict => "rate conflict",
        ConformClass.DropFlagConflict => "drop-flag conflict",
        ConformClass.OutsideFile => "outside the file",
        ConformClass.ChunkMissing => "chunk missing",
        ConformClass.NotSought => "not sought",
        _ => throw new ArgumentOutOfRangeException(nameof(value), value, "The class is not defined."),
    };
}
