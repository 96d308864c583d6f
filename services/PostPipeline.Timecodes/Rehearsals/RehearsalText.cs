using PostPipeline.Timecodes.OffSpeed;

namespace PostPipeline.Timecodes.Rehearsals;

/// <summary>The words for each cause.</summary>
public static class RehearsalText
{
    /// <summary>A short name in kebab case.</summary>
    /// <param name="cause">The cause.</param>
    public static string NameOf(RehearsalCause cause) => cause switch
    {
        RehearsalCause.RatesDiffer => "rates-differ",
        RehearsalCause.DropFlagsDiffer => "drop-flags-differ",
        RehearsalCause.LabelsOverlap => "labels-overlap",
        RehearsalCause.ReelNamesMerge => "reel-names-merge",
        RehearsalCause.ReelNamesCutOff => "reel-names-cut-off",
        RehearsalCause.ClipNamesRepeat => "clip-names-repeat",
        RehearsalCause.LabelsDoNotCountFrames => "labels-do-not-count-frames",
        RehearsalCause.NoLabels => "no-labels",
        RehearsalCause.WrongClip => "wrong-clip",
        RehearsalCause.NotFound => "not-found",
        RehearsalCause.ProxyDoesNotMatch => "proxy-does-not-match",
        RehearsalCause.NoProxyOffSpeed => "no-proxy-off-speed",
        RehearsalCause.ClocksDrift => "clocks-drift",
        RehearsalCause.CombinationsUntried => "combinations-untried",
        _ => throw new ArgumentOutOfRangeException(nameof(cause), cause, "The cause is not defined."),
    };

    internal static string Describe(RehearsalCause cause, RehearsalCamera camera, RehearsalPlan plan, string behaviours)
    {
        string when = behaviours.Length > 0 ? $" ({behaviours})" : string.Empty;
        return cause switch
        {
            RehearsalCause.RatesDiffer => $"Labels of camera {camera.Name} count {camera.Base} frames per second and the cut {plan.ProjectFormat}: their numbers do not name the same frames.",
            RehearsalCause.DropFlagsDiffer => $"Camera {camera.Name} counts {Numbering(camera.Base)} and the cut {Numbering(plan.ProjectFormat)}: the numberings part by 108 numbers an hour at 30000/1001.",
            RehearsalCause.LabelsOverlap => $"Takes of one reel of camera {camera.Name} hold the same labels{when}, so that reel and label name more than one frame.",
            RehearsalCause.ReelNamesMerge => $"Reels of camera {camera.Name} become equal to others when they are cut off at {plan.ReelCharacters} characters, and hold the same labels{when}.",
            RehearsalCause.ReelNamesCutOff => $"The edit list cuts the reels of camera {camera.Name} off at {plan.ReelCharacters} characters; without clip names every match must be confirmed by a person.",
            RehearsalCause.ClipNamesRepeat => $"Takes of camera {camera.Name} have a clip name in common with others and hold the same labels{when}.",
            RehearsalCause.LabelsDoNotCountFrames => $"Off speed, labels of camera {camera.Name} follow the clock{when}: they repeat or skip and do not name frames.",
            RehearsalCause.NoLabels => $"Off speed, camera {camera.Name} records no labels{when}: nothing ties the cut to the originals but the eye.",
            RehearsalCause.WrongClip => $"Events cut from camera {camera.Name} would be matched with another clip{when}.",
            RehearsalCause.NotFound => $"Events cut from camera {camera.Name} would not be found{when}.",
            RehearsalCause.ProxyDoesNotMatch when camera.ProxyMatches is null => $"Nobody has shown that proxies of camera {camera.Name} share frame count, first label, rate, drop flag and name stem with their originals.",
            RehearsalCause.ProxyDoesNotMatch => $"Proxies of camera {camera.Name} do not share frame count, first label, rate, drop flag and name stem with their originals.",
            RehearsalCause.NoProxyOffSpeed when camera.ProxyOffSpeed is null => $"Nobody has shown that camera {camera.Name} records matching proxies off speed.",
            RehearsalCause.NoProxyOffSpeed => $"Camera {camera.Name} records no proxies off speed, or they do not correspond frame for frame.",
            RehearsalCause.ClocksDrift => $"Clocks drift by more than half a frame before camera {camera.Name} is jam-synced again; labels of two cameras then stop naming one moment.",
            RehearsalCause.CombinationsUntried => "Cameras with unknown behaviour share reel or clip names, and not every combination of their behaviours was tried.",
            _ => throw new ArgumentOutOfRangeException(nameof(cause), cause, "The cause is not defined."),
        };
    }

    internal static string Remedy(RehearsalCause cause, RehearsalCamera camera, RehearsalPlan plan) => cause switch
    {
        RehearsalCause.RatesDiffer => $"Set the timecode base of camera {camera.Name} to {plan.ProjectFormat.Rate}, or cut at the rate of the recording.",
        RehearsalCause.DropFlagsDiffer => $"Set camera {camera.Name} to {Numbering(plan.ProjectFormat)}.",
        RehearsalCause.LabelsOverlap => "Give every card a reel of its own and never reset reels; off speed, choose record run, or leave a gap in time before the next take.",
        RehearsalCause.ReelNamesMerge => $"Make reels differ within their first {plan.ReelCharacters} characters: put the distinguishing part first.",
        RehearsalCause.ReelNamesCutOff => $"Shorten reels to {plan.ReelCharacters} characters, or make sure that the edit list carries full clip names.",
        RehearsalCause.ClipNamesRepeat => "Let clip numbers run on from card to card, or put camera and reel into the clip name.",
        RehearsalCause.LabelsDoNotCountFrames => $"Set camera {camera.Name} to one label a frame off speed (record run), or test what it does with a clip off speed.",
        RehearsalCause.NoLabels => $"Choose a mode of camera {camera.Name} that records labels off speed, or burn frame numbers into the proxies; test it with a clip off speed.",
        RehearsalCause.WrongClip or RehearsalCause.NotFound => "Put full clip names into the edit list and keep reels unique.",
        RehearsalCause.ProxyDoesNotMatch when camera.Proxies == ProxyOrigin.InPost => "Make proxies that take over name, first label, rate and every frame; compare frame counts before the cut begins.",
        RehearsalCause.ProxyDoesNotMatch => $"Record a test clip on camera {camera.Name} and compare original and proxy; else make the proxies in post.",
        RehearsalCause.NoProxyOffSpeed => $"Make the proxies of off-speed takes of camera {camera.Name} in post from the originals.",
        RehearsalCause.ClocksDrift => $"Jam-sync camera {camera.Name} at least every {HalfFrameHours(camera):0.0} h.",
        RehearsalCause.CombinationsUntried => "Give each camera reels that begin with its own letter, and find out how the cameras label off speed.",
        _ => throw new ArgumentOutOfRangeException(nameof(cause), cause, "The cause is not defined."),
    };

    internal static string Word(OffSpeedLabelling labelling) => labelling switch
    {
        OffSpeedLabelling.PerFrame => "one label a frame",
        OffSpeedLabelling.FollowsClock => "labels follow the clock",
        OffSpeedLabelling.RecordRunForced => "record run forced",
        OffSpeedLabelling.None => "no labels",
        _ => "unknown",
    };

    /// <summary>Hours in which a clock drifts by half a frame.</summary>
    internal static double HalfFrameHours(RehearsalCamera camera) =>
        0.5 / camera.Base.Rate.FramesPerSecond.ToDouble() / (camera.DriftPartsPerMillion * 1e-6) / 3600;

    private static string Numbering(TimecodeFormat format) => format.DropFrame ? "drop-frame" : "non-drop";
}
