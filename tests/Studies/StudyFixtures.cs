using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Preparing;
using PostPipeline.Studies.Takes;

namespace PostPipeline.Studies.Tests;

/// <summary>
/// Prepared studies whose facts are written down here instead of asked for, so that composition is tested alone: every
/// frame of reference clip R (4096×2160, 12-bit raw 3:1: 4,423,680 B), offload one hour after wrap at the planned material.
/// </summary>
internal static class StudyFixtures
{
    public const long ReferenceClip = 4_423_680;

    public static PreparedStudy Prepared(string text, double secondsPerFrame = 0.1, long mezzanine = 3_641_131, double problemShare = 0) =>
        Prepared(BriefReader.Read("b.yaml", text), secondsPerFrame, mezzanine, problemShare);

    public static PreparedStudy Prepared(Brief brief, double secondsPerFrame = 0.1, long mezzanine = 3_641_131, double problemShare = 0)
    {
        IReadOnlyList<PlannedTake> takes = TakeExpansion.Expand(brief, (_, _) => long.MaxValue, default);
        List<Strand> strands = [];
        List<RecordingFacts> recordings = [];
        for (int c = 0; c < brief.Shoot.Cameras.Count; c++)
        {
            for (int r = 0; r < brief.Shoot.Cameras[c].Recordings.Count; r++)
            {
                strands.Add(new(c, 0, brief.Shoot.Cameras[c].Recordings[r], brief.Shoot.Days, ReferenceClip, takes.Where(t => t.Camera == c && t.Recording == r)));
                recordings.Add(new(c, r, ReferenceClip, 106_168_320, 765_000_000, "sustained", true, 4800, 0, 0, 0));
            }
        }

        double wrap = brief.Shoot.Units[0].Wrap.TickOfDay / 1e7;
        OffloadFacts offload = new(
            [0.5, 1, 2],
            [[.. Enumerable.Range(0, brief.Shoot.Days).Select(_ => new[] { wrap + 1800, wrap + 3600, wrap + 7200 })]],
            [new int[brief.Shoot.Days]],
            [0.3],
            [.. brief.Shoot.Cameras.Select(_ => 3)],
            "copy 2");
        double[] speeds = [.. brief.Farm.Nodes.Select(n => n.Speed)];
        List<JobFacts> jobs = [];
        foreach (CaptureMode mode in brief.Modes)
        {
            jobs.Add(new("transcode", mode.Name, secondsPerFrame, speeds, 0.2, ReferenceClip, mezzanine, false, []));
            jobs.Add(new("proxy", mode.Name, secondsPerFrame / 4, speeds, 0.2, ReferenceClip, 200_000, false, []));
        }

        jobs.Add(new("render-originals", string.Empty, 1, speeds, 0.2, ReferenceClip, 30_000_000, false, []));
        jobs.Add(new("render-mezzanine", string.Empty, 0.8, speeds, 0.2, mezzanine, 30_000_000, false, []));
        int problems = (int)(problemShare * 1000);
        RehearsalFacts rehearsal = new(problems == 0, 1000, problems, problems, []);
        return new(brief, takes, strands, recordings, offload, jobs, mezzanine, new Dictionary<string, RehearsalFacts> { ["in-post"] = rehearsal, ["in-camera"] = rehearsal }, new("figures of a test", string.Empty, true, string.Empty, double.NaN));
    }

    /// <summary>Example of 3 cameras × 2.5 h × 25 days of reference clip R; invented.</summary>
    public const string ThreeCameras = """
        brief: 1
        production: documentary
        time_zone: Europe/Dublin
        shoot:
          starts: 2026-09-07
          days: 25
          cameras: 3
          hours_per_day: 2.5 h
          ratio: 25
        modes:
          - name: main
            trimmable: yes
        edit:
          finished: 110 min
          lock: 2027-03-01
        deliver:
          due: 2027-05-03
          raster: 3840x2160
        """;
}
