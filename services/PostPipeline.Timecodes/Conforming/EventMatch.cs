namespace PostPipeline.Timecodes.Conforming;

/// <summary>The answer for one event of a cut.</summary>
/// <param name="Event">Its place in the cut, from 0.</param>
/// <param name="Class">What it came to.</param>
/// <param name="Rung">The rung on which the clip was found; Person where none was.</param>
/// <param name="Row">The row of the inventory, or −1. With several candidates, the first of them.</param>
/// <param name="Candidates">How many clips fit on that rung; counting stops at <see cref="Conformer.MostCandidates"/>.</param>
/// <param name="Findings">What else is to be known.</param>
/// <param name="Need">Frames needed without handles, counted from the clip's first frame.</param>
/// <param name="HandleBefore">Source frames available before them, at most those asked for.</param>
/// <param name="HandleBehind">Source frames available behind them, at most those asked for.</param>
public readonly record struct EventMatch(
    int Event,
    ConformClass Class,
    MatchRung Rung,
    int Row,
    int Candidates,
    ConformFindings Findings,
    SourceSpan Need,
    long HandleBefore,
    long HandleBehind)
{
    /// <summary>Whether one clip holds every frame of the event, so that it can be pulled.</summary>
    public bool HasPictures => Class is ConformClass.Matched or ConformClass.ShortHandles or ConformClass.SpeedToCheck;

    /// <summary>Whether a person must look before the event can be trusted.</summary>
    public bool NeedsPerson => Class is not (ConformClass.Matched or ConformClass.NotSought) || (Findings & ConformFindings.ToConfirm) != 0;
}
