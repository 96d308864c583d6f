namespace PostPipeline.Timecodes.Conforming;

/// <summary>Whether a proxy has one original.</summary>
public enum PairState
{
    /// <summary>Exactly one original has the proxy's name stem, or its reel and labels.</summary>
    Paired = 0,

    /// <summary>No original fits.</summary>
    NoOriginal = 1,

    /// <summary>More than one original fits.</summary>
    SeveralOriginals = 2,
}
