namespace PostPipeline.Timecodes.Rehearsals;

/// <summary>Why a cut of the planned takes would not conform.</summary>
public enum RehearsalCause
{
    /// <summary>The labels count at another rate than the cut.</summary>
    RatesDiffer = 0,

    /// <summary>The labels count drop-frame and the cut does not, or the other way round.</summary>
    DropFlagsDiffer = 1,

    /// <summary>Two takes of one reel hold the same labels.</summary>
    LabelsOverlap = 2,

    /// <summary>Reels that differ are the same once the list cuts them off, and hold the same labels.</summary>
    ReelNamesMerge = 3,

    /// <summary>The list cuts reels off, so that every match rests on labels being unique.</summary>
    ReelNamesCutOff = 4,

    /// <summary>Takes of one name hold the same labels.</summary>
    ClipNamesRepeat = 5,

    /// <summary>Off speed, labels follow the clock: they do not name frames.</summary>
    LabelsDoNotCountFrames = 6,

    /// <summary>Off speed, no labels are recorded.</summary>
    NoLabels = 7,

    /// <summary>The check found another clip than the one cut from.</summary>
    WrongClip = 8,

    /// <summary>The check found nothing.</summary>
    NotFound = 9,

    /// <summary>Proxies are not frame for frame like their originals.</summary>
    ProxyDoesNotMatch = 10,

    /// <summary>Off speed the camera records no proxies.</summary>
    NoProxyOffSpeed = 11,

    /// <summary>Clocks part by more than half a frame between jam syncs; no event fails, but labels of two cameras stop naming one moment.</summary>
    ClocksDrift = 12,

    /// <summary>So many cameras with unknown behaviour share reel names that not every combination was tried.</summary>
    CombinationsUntried = 13,
}
