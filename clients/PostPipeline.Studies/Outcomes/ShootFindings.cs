using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Printing;
using PostPipeline.Studies.Takes;

namespace PostPipeline.Studies.Outcomes;

/// <summary>What the shoot's plan shows before any pipeline is chosen.</summary>
public static class ShootFindings
{
    /// <summary>Above this quotient two estimates of one volume are flagged.</summary>
    public const double VolumesDiffer = 1.5;

    /// <summary>The shooting ratio that a plan implies: recorded frames of all cameras over finished frames.</summary>
    /// <param name="days">Shoot days.</param>
    /// <param name="cameras">Cameras.</param>
    /// <param name="hoursPerCameraDay">Recorded hours a camera-day.</param>
    /// <param name="finishedSeconds">Finished length, s.</param>
    public static double ImpliedRatio(double days, double cameras, double hoursPerCameraDay, double finishedSeconds) =>
        days * cameras * hoursPerCameraDay * 3600 / finishedSeconds;

    internal static IReadOnlyList<Finding> Of(PreparedStudy study)
    {
        Brief brief = study.Brief;
        List<Finding> findings = [];
        double frames = study.Strands.Sum(s => (double)s.TotalFrames);
        double bytes = study.Strands.Sum(s => (double)s.TotalBytes);
        double rate = brief.Modes[0].ProjectRate.FramesPerSecond.ToDouble();
        double implied = frames / (brief.Edit.FinishedSeconds * rate);
        if (brief.Shoot.StatedRatio is { } stated)
        {
            double second = frames > 0 ? bytes / frames * stated * brief.Edit.FinishedSeconds * rate : 0;
            bool differ = Math.Max(implied / stated, stated / Math.Max(implied, 1e-9)) > VolumesDiffer;
            findings.Add(new(
                "two volumes",
                $"by days, cameras and hours {Numbers.Size(bytes)} ({Numbers.Three(implied)}:1), by length and the stated ratio {Numbers.Size(second)} ({Numbers.Three(stated)}:1){(differ ? ": they differ by more than 1.5 times" : string.Empty)}",
                differ ? "ask which ratio was meant: recorded frames of all cameras over finished frames" : string.Empty));
        }
        else
        {
            findings.Add(new("ratio", $"the plan implies {Numbers.Three(implied)}:1, all cameras counted; no ratio was stated to compare it with", string.Empty));
        }

        if (brief.Shoot.StartsIsInvented)
        {
            findings.Add(new("shoot start", $"the brief does not say when the shoot starts; {brief.Shoot.Starts:uuuu-MM-dd} was derived from the lock", "write shoot.starts"));
        }

        for (int unit = 0; unit < brief.Shoot.Units.Count; unit++)
        {
            double load = study.Offload.StationLoad[unit];
            if (load >= 0.7)
            {
                findings.Add(new(
                    "station load",
                    $"unit {brief.Shoot.Units[unit].Name}: the offload stations are loaded {Numbers.Percent(Math.Min(load, 9.99))} on the heaviest day{(load >= 1 ? " and never catch up" : "; over 70 % queues late")}",
                    "another station, or a faster slowest link"));
            }
        }

        foreach (RecordingFacts facts in study.Recordings.Where(r => r.Kind == "burst"))
        {
            Camera camera = brief.Shoot.Cameras[facts.Camera];
            findings.Add(new(
                "burst",
                $"camera {camera.Letter}, mode {camera.Recordings[facts.Recording].Mode.Name}: windows of {Numbers.Three(facts.BurstSeconds)} s ({Numbers.Exact(facts.BurstFrames)} frames), then {Numbers.Three(facts.ReadyAgainSeconds)} s until ready; power lost in a window loses it",
                $"agree on the trigger, leave {Numbers.Three(facts.ReadyAgainSeconds)} s between takes, keep the camera powered until it has drained"));
        }

        double hours = study.Strands.Sum(s => s.TotalSeconds) / 3600;
        if (hours == 0)
        {
            findings.Add(new("nothing is recorded", "the plan records no frame", "write the recorded hours"));
        }

        return findings;
    }
}
