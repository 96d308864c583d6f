using NodaTime;
using PostPipeline.Quantities;

namespace PostPipeline.Studies.Briefs;

/// <summary>What no single key can show: dates in order, names used once, totals that can be counted.</summary>
internal static class BriefChecks
{
    /// <summary>The most takes that a brief may expand into.</summary>
    public const long MaximumTakes = 1_000_000;

    /// <summary>The most frames of one take.</summary>
    public const long MaximumFramesPerTake = 1_000_000_000;

    public static void Check(BriefContext context, Section top, Brief brief)
    {
        Section shoot = top.Map("shoot");
        Dates(top, shoot, brief);
        Twice(shoot, "units", brief.Shoot.Units.Select(u => u.Name));
        Twice(shoot, "cameras", brief.Shoot.Cameras.Select(c => c.Letter.ToUpperInvariant()));
        Twice(top, "modes", brief.Modes.Select(m => m.Name));
        Twice(top, "events", brief.Events.Select(e => e.Name));
        if (brief.Shoot.Cameras.Count is 0 or > 100 && shoot.Has("cameras"))
        {
            shoot.Problem("cameras", $"{brief.Shoot.Cameras.Count} cameras are planned; allowed is 1 to 100");
        }

        if (brief.Pipelines.Count == 0)
        {
            top.Problem("pipelines", $"at least one pipeline is expected; known are {string.Join(", ", BriefKeys.Pipelines)}");
        }

        if (brief.Pipelines.Distinct().Count() < brief.Pipelines.Count)
        {
            top.Problem("pipelines", "a pipeline stands twice; keep one");
        }

        Factors(context, brief);
        Volume(shoot, brief);
    }

    private static void Dates(Section top, Section shoot, Brief brief)
    {
        Section deliver = top.Map("deliver");
        Section edit = top.Map("edit");
        if (!deliver.Has("due") || !edit.Has("lock"))
        {
            return;
        }

        LocalDate starts = brief.Shoot.Starts;
        if (brief.Deliver.Due < starts)
        {
            deliver.Problem("due", $"the delivery is due before the shoot starts on {starts:uuuu-MM-dd}; a date from then on is expected");
        }
        else if (brief.Edit.Lock < starts)
        {
            edit.Problem("lock", $"the lock lies before the shoot starts on {starts:uuuu-MM-dd}; a date from then on is expected");
        }
        else if (brief.Deliver.Due < brief.Edit.Lock)
        {
            deliver.Problem("due", $"the delivery is due before the lock on {brief.Edit.Lock:uuuu-MM-dd}; a date from then on is expected");
        }

        if (brief.Shoot.Closed.Count > 3660)
        {
            shoot.Problem("closed", "more than 3660 dates");
        }
    }

    private static void Twice(Section section, string key, IEnumerable<string> names)
    {
        foreach (string name in names.GroupBy(n => n).Where(g => g.Count() > 1).Select(g => g.Key))
        {
            section.Problem(key, $"'{name}' stands twice; each name is used once");
        }
    }

    // One factor, one weight: two weights for one name is what a typing mistake looks like.
    private static void Factors(BriefContext context, Brief brief)
    {
        foreach (IGrouping<string, Estimate> factor in brief.Inputs.Where(i => i.Factor.Length > 0).GroupBy(i => i.Factor))
        {
            Estimate first = factor.First();
            foreach (Estimate other in factor.Where(i => i.Weight != first.Weight))
            {
                context.Problems.Add(new(context.File, other.Line, 1, other.Key, $"{other.Weight:0.##}", $"the factor '{factor.Key}' has the weight {first.Weight:0.##} at {first.Key}; one factor has one weight"));
            }
        }
    }

    private static void Volume(Section shoot, Brief brief)
    {
        double takes = 0;
        double bytes = 0;
        foreach (Camera camera in brief.Shoot.Cameras)
        {
            int days = brief.Shoot.Units.FirstOrDefault(u => u.Name == camera.Unit)?.Days ?? 0;
            foreach (Recording recording in camera.Recordings)
            {
                double fps = recording.Mode.SensorRate.FramesPerSecond.ToDouble();
                if (recording.TakeSeconds * 4 * fps > MaximumFramesPerTake)
                {
                    shoot.Problem("cameras", $"a usual take of camera {camera.Letter} in mode {recording.Mode.Name} has {recording.TakeSeconds * fps:0.###e0} frames; allowed is {MaximumFramesPerTake / 4:0} so that a long one stays below {MaximumFramesPerTake}");
                }

                double seconds = days * recording.HoursPerDay.High * 3600 * (1 + brief.Shoot.DaySpread);
                takes += seconds / recording.TakeSeconds;
                bytes += seconds * fps * FrameBytes(recording.Mode);
            }
        }

        if (takes > MaximumTakes)
        {
            shoot.Problem("cameras", $"the plan makes about {takes:0.##e0} takes; allowed is {MaximumTakes}");
        }

        if (bytes > long.MaxValue)
        {
            shoot.Problem("cameras", $"the plan makes about {bytes:0.##e0} bytes; allowed is {long.MaxValue} (9.2 EB)");
        }
    }

    private static double FrameBytes(CaptureMode mode) => mode.Rate is { } rate
        ? (rate.BytesPerSecond / mode.ProjectRate.FramesPerSecond).ToDouble()
        : mode.Raster.Pixels * mode.BitsPerPixel / 8;
}
