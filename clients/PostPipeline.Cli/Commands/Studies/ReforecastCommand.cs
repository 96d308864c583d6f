using System.CommandLine;
using System.Globalization;
using System.Text.Json.Nodes;
using NodaTime;
using PostPipeline.Cli.Frame;
using PostPipeline.Studies;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Printing;
using PostPipeline.Studies.Reforecasts;
using PostPipeline.Studies.WhatIfs;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Studies;

/// <summary><c>reforecast</c>: the daily log against the frozen plan.</summary>
internal static class ReforecastCommand
{
    private static readonly Argument<string> File = Studying.BriefFile();
    private static readonly Option<int> Draws = Studying.Draws(Compare.UsualDraws);
    private static readonly Option<int> Threads = Studying.Threads();

    private static readonly Option<string?> Log = new("--log") { Description = $"The daily log, a CSV with {string.Join(", ", DailyLog.Columns)}; cameras and clips only inform. Without it the plan is only frozen.", HelpName = "CSV" };

    private static readonly Option<string> Frozen = new("--baseline") { Description = "The frozen plan; made from the brief where it is not there, never changed.", Required = true, HelpName = "FILE" };

    public static Command Create() => new Command("reforecast", "Hold what was really shot against the frozen plan.") { File, Log, Frozen, Draws, Threads }.Runs(async session =>
    {
        int draws = Studying.DrawsOf(session, Draws);
        int threads = Studying.ThreadsOf(session, Threads);
        string path = session.Line.GetValue(File)!;
        string text = BriefText.Read(path);
        Brief brief = BriefReader.Read(path, text);
        string frozen = session.Line.GetValue(Frozen)!;
        Baseline? baseline = System.IO.File.Exists(frozen) ? Baseline.ReadFile(frozen) : null;
        IReadOnlyList<LogDay> log = session.Line.GetValue(Log) is { } csv ? DailyLog.ReadFile(csv, brief) : [];
        OutputFolder folder = OutputFolder.Open(Path.GetDirectoryName(Path.GetFullPath(frozen))!);
        StudyModel model = await Studying.ModelAsync(session, brief).ConfigureAwait(false);
        if (baseline is null)
        {
            baseline = Baseline.Freeze(Compare.Run(model, draws, threads, session.Cancellation), text);
            folder.Write(Path.GetFileName(frozen), baseline.ToJson());
            session.Note($"the plan is frozen in {frozen}");
        }
        else if (baseline.BriefDigest != Baseline.Digest(text))
        {
            session.Note("the brief has changed since the plan was frozen; the frozen plan is what is compared with");
        }

        if (log.Count == 0)
        {
            return session.Answer("postpipeline.baseline/1", JsonNode.Parse(baseline.ToJson())!, console => console.WriteLine($"The plan stands frozen: {Numbers.Size(baseline.TotalBytes.P50)} over {baseline.Days.Count} unit-days."));
        }

        Reforecast now = Reforecast.Of(model, baseline, log, draws, threads);
        LocalDate last = log.Max(d => d.Date);
        LogDay[] earlier = [.. log.Where(d => d.Date < last)];
        Reforecast? yesterday = earlier.Length > 0 ? Reforecast.Of(model, baseline, earlier, draws, threads) : null;
        return session.Answer("postpipeline.reforecast/1", Result(model, now, yesterday), console => Print(console, model, now, yesterday));
    });

    private static JsonObject Result(StudyModel model, Reforecast now, Reforecast? yesterday) => new()
    {
        ["seen"] = now.Seen.ToString("uuuu-MM-dd", CultureInfo.InvariantCulture),
        ["days_seen"] = now.Bytes.Days,
        ["bytes_so_far"] = now.BytesSoFar,
        ["planned_so_far"] = now.PlannedSoFar,
        ["ratio"] = now.Bytes.Ratio,
        ["factor_of_remaining_days"] = now.Bytes.Factor,
        ["total_bytes"] = new JsonObject { ["p10"] = Math.Round(now.TotalBytes.P10), ["p50"] = Math.Round(now.TotalBytes.P50), ["p90"] = Math.Round(now.TotalBytes.P90) },
        ["total_bytes_p50_yesterday"] = yesterday is null ? null : Math.Round(yesterday.TotalBytes.P50),
        ["outside_the_band_since"] = now.LeftBand?.ToString("uuuu-MM-dd", CultureInfo.InvariantCulture),
        ["since_yesterday"] = yesterday is null ? null : new JsonArray([.. SinceYesterday.Of(model, yesterday, now).Select(m => (JsonNode)new JsonObject
        {
            ["pipeline"] = m.Pipeline,
            ["what"] = m.What,
            ["before"] = m.Before,
            ["after"] = m.After,
        })]),
        ["minutes_factor"] = now.Minutes?.Factor,
        ["seconds_per_frame_factor"] = now.SecondsPerFrame?.Factor,
        ["problem_events_factor"] = now.ProblemEvents?.Factor,
        ["blends"] = new JsonArray([.. Blends(now).Select(b => (JsonNode)new JsonObject
        {
            ["of"] = b.Of,
            ["reaches"] = b.Reaches,
            ["days"] = b.Blend.Days,
            ["ratio"] = b.Blend.Ratio,
            ["factor"] = b.Blend.Factor,
            ["factor_deviation"] = b.Blend.FactorDeviation,
        })]),
        ["only_inform"] = new JsonObject { ["camera_days"] = now.CameraDays, ["clips"] = now.Clips },
        ["pipelines"] = new JsonArray([.. now.Pipelines.Select(p => (JsonNode)new JsonObject
        {
            ["name"] = p.Name,
            ["delivery_p50"] = model.Clock.Text(p.Delivery.P50),
            ["delivery_p90"] = model.Clock.Text(p.Delivery.P90),
            ["on_time"] = p.OnTime.Share,
        })]),
        ["alerts"] = new JsonArray([.. now.Alerts.Select(a => (JsonNode)new JsonObject { ["name"] = a.Name, ["day"] = a.Day, ["says"] = a.Says })]),
        ["tomorrow"] = new JsonArray([.. now.Tomorrow.Select(t => (JsonNode)new JsonObject
        {
            ["date"] = t.Date.ToString("uuuu-MM-dd", CultureInfo.InvariantCulture),
            ["unit"] = t.Unit,
            ["bytes"] = Math.Round(t.Bytes),
            ["cards"] = t.Cards,
            ["offload_end_seconds"] = Math.Round(t.OffloadEnd),
            ["first_camera"] = t.FirstCamera,
            ["supplies"] = new JsonArray([.. t.Supplies.Select(u => (JsonNode)new JsonObject
            {
                ["name"] = u.Name,
                ["unit"] = u.IsBytes ? "bytes" : "cards",
                ["left"] = Math.Round(u.Left),
                ["takes"] = Math.Round(u.Takes),
                ["after"] = Math.Round(u.After),
                ["whole_left"] = u.WholeLeft,
            })]),
        })]),
    };

    private static IEnumerable<(string Of, string Reaches, Blend Blend)> Blends(Reforecast now)
    {
        yield return ("Bytes", "offload, cards, drives, tiers, tapes and links", now.Bytes);
        if (now.Minutes is { } minutes)
        {
            yield return ("Recorded minutes", "frames for the farm, sync, proxies and all that is counted by recorded hours", minutes);
        }

        if (now.SecondsPerFrame is { } seconds)
        {
            yield return ("Node-seconds a farm frame", "every farm stage", seconds);
        }

        if (now.ProblemEvents is { } problems)
        {
            yield return ("Problem events", "the conform of a cut in proxies", problems);
        }
    }

    private static void Print(IAnsiConsole console, StudyModel model, Reforecast now, Reforecast? yesterday)
    {
        console.WriteLine($"Until {now.Seen:uuuu-MM-dd}: {Numbers.Size(now.BytesSoFar)} against {Numbers.Size(now.PlannedSoFar)} planned, ratio {Numbers.Three(now.Bytes.Ratio)} after {now.Bytes.Days} days; each remaining day is multiplied by {Numbers.Three(now.Bytes.Factor)}.");
        console.WriteLine($"Whole shoot: {Numbers.Size(now.TotalBytes.P50)} (P10 {Numbers.Size(now.TotalBytes.P10)}, P90 {Numbers.Size(now.TotalBytes.P90)}){(yesterday is null ? string.Empty : $"; yesterday it was {Numbers.Size(yesterday.TotalBytes.P50)}")}.");
        foreach ((string of, string reaches, Blend blend) in Blends(now).Skip(1))
        {
            console.WriteLine($"{of}: ratio {Numbers.Three(blend.Ratio)} after {blend.Days} {(blend.Days == 1 ? "day" : "days")}; what is left is multiplied by {Numbers.Three(blend.Factor)}, ± {Numbers.Three(blend.FactorDeviation)} (one standard deviation). It reaches {reaches}.");
        }

        string[] informs = [.. new[] { (now.CameraDays, "camera-days"), (now.Clips, "clips") }.Where(i => i.Item1 is not null).Select(i => $"{Numbers.Three(i.Item1!.Value)} {i.Item2}")];
        if (informs.Length > 0)
        {
            console.WriteLine($"So far: {string.Join(", ", informs)}. These columns only inform; no forecast hangs on them.");
        }

        foreach (PipelineOutcome p in now.Pipelines)
        {
            string before = yesterday is null ? string.Empty : $" (yesterday {model.Clock.DateText(yesterday.Pipelines.First(y => y.Name == p.Name).Delivery.P50)})";
            console.WriteLine($"{p.Name}: delivery P50 {model.Clock.DateText(p.Delivery.P50)}{before}, P90 {model.Clock.DateText(p.Delivery.P90)}, on time {Numbers.Percent(p.OnTime.Share)}");
        }

        foreach (Alert alert in now.Alerts)
        {
            console.WriteLine($"ALERT {alert.Name}{(alert.Day.Length > 0 ? $", {alert.Day}" : string.Empty)}: {alert.Says}");
        }

        foreach (Tomorrow t in now.Tomorrow)
        {
            console.WriteLine($"Next day {t.Date:uuuu-MM-dd}, unit {t.Unit}: {Numbers.Size(t.Bytes)} on {t.Cards} cards; the last is done about {Numbers.Clock(t.OffloadEnd)}; cards of camera {t.FirstCamera} first.");
        }

        foreach (Supply supply in now.Tomorrow.Select(t => t.Supplies).FirstOrDefault() ?? [])
        {
            string Amount(double value) => supply.IsBytes ? Numbers.Size(value) : Numbers.Three(value);
            console.WriteLine($"  {supply.Name}: {Amount(supply.Left)} left, the day takes {Amount(supply.Takes)}, {(supply.After < 0 ? $"{Amount(-supply.After)} SHORT" : $"{Amount(supply.After)} left after it")}{(supply.WholeLeft is { } whole ? $" ({whole} whole ones)" : string.Empty)}");
        }

        if (now.Tomorrow.Count > 0)
        {
            string[] unknown =
            [
                .. model.Study.Brief.Shoot.Cameras.Any(c => c.Card.Count is null) ? ["how many cards there are (cards: count)"] : Array.Empty<string>(),
                .. model.Study.Brief.Offload.Destinations.Any(d => d.Size is null) ? ["the size of every copy's drives (offload.destinations: size, count)"] : Array.Empty<string>(),
            ];
            if (unknown.Length > 0)
            {
                console.WriteLine($"  The brief does not say {string.Join(" or ", unknown)}, so what is left of them is not known.");
            }
        }

        if (yesterday is not null)
        {
            IReadOnlyList<MovedOutcome> moved = SinceYesterday.Of(model, yesterday, now);
            console.WriteLine(moved.Count == 0 ? "Since yesterday nothing moved." : "Since yesterday:");
            foreach (MovedOutcome m in moved)
            {
                console.WriteLine($"  {(m.Pipeline.Length > 0 ? $"{m.Pipeline}, " : string.Empty)}{m.What}: {m.Before} → {m.After}");
            }
        }
    }
}
