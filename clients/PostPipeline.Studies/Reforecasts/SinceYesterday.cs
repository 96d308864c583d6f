using System.Globalization;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Printing;
using PostPipeline.Studies.WhatIfs;

namespace PostPipeline.Studies.Reforecasts;

/// <summary>What a day more changed: every headline number of the re-forecast, and of these only what moved in print.</summary>
public static class SinceYesterday
{
    /// <summary>Compares two re-forecasts of one plan.</summary>
    /// <param name="model">The model of both.</param>
    /// <param name="before">The earlier.</param>
    /// <param name="now">The later.</param>
    public static IReadOnlyList<MovedOutcome> Of(StudyModel model, Reforecast before, Reforecast now)
    {
        List<MovedOutcome> moved = [.. Headlines.Moved(string.Empty, Whole(before), Whole(now))];
        foreach (PipelineOutcome outcome in now.Pipelines)
        {
            moved.AddRange(Headlines.Moved(outcome.Name, Headlines.Of(model, before.Pipelines.First(p => p.Name == outcome.Name)), Headlines.Of(model, outcome)));
        }

        moved.AddRange(Headlines.Moved(string.Empty, Alerts(before), Alerts(now)));
        return moved;
    }

    private static IEnumerable<(string What, string Text)> Whole(Reforecast r)
    {
        string Times(Blend? blend) => blend is null ? "–" : $"× {Numbers.Three(blend.Factor)}";
        yield return ("whole shoot P10", Numbers.Size(r.TotalBytes.P10));
        yield return ("whole shoot P50", Numbers.Size(r.TotalBytes.P50));
        yield return ("whole shoot P90", Numbers.Size(r.TotalBytes.P90));
        yield return ("a remaining day's bytes against plan", Times(r.Bytes));
        yield return ("recorded minutes against plan", Times(r.Minutes));
        yield return ("seconds a farm frame against plan", Times(r.SecondsPerFrame));
        yield return ("problem events against plan", Times(r.ProblemEvents));
        yield return ("outside the plan's band since", r.LeftBand?.ToString("uuuu-MM-dd", CultureInfo.InvariantCulture) ?? "–");
    }

    private static IEnumerable<(string What, string Text)> Alerts(Reforecast r) =>
        r.Alerts.DistinctBy(a => a.Name).Select(a => ($"alert {a.Name}", a.Day.Length > 0 ? a.Day : "yes"));
}
