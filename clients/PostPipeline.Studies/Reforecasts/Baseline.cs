using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using NodaTime;
using PostPipeline.Quantities.Randomness;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Outcomes;

namespace PostPipeline.Studies.Reforecasts;

/// <summary>
/// A plan frozen before the shoot: what each unit was to make each day, and the range of the whole. It is compared with
/// for ever; a brief that changes afterwards does not change it.
/// </summary>
/// <param name="BriefDigest">SHA-256 of the brief it was made from.</param>
/// <param name="Seed">The seed of its material and draws.</param>
/// <param name="Days">Planned unit-days in order of time.</param>
/// <param name="TotalBytes">The range of all bytes, with the spread that each day has of its own.</param>
/// <param name="DaySpread">The plan's standard deviation of a day's ratio, σ.</param>
/// <param name="SecondsPerFrame">Planned node-seconds of a farm frame; NaN where the farm does nothing.</param>
/// <param name="ProblemShare">Planned share of events with a problem: those that the rehearsal finds, and those beyond them.</param>
public sealed record Baseline(
    string BriefDigest, long Seed, IReadOnlyList<PlannedDay> Days, Outcomes.Range TotalBytes, double DaySpread, double SecondsPerFrame, double ProblemShare)
{
    private const int Version = 1;

    /// <summary>Freezes a comparison's plan.</summary>
    /// <param name="comparison">The comparison.</param>
    /// <param name="briefText">The brief's text.</param>
    public static Baseline Freeze(Comparison comparison, string briefText)
    {
        StudyModel model = comparison.Model;
        Brief brief = model.Study.Brief;
        IReadOnlyList<LocalDate> dates = brief.Shoot.Dates();
        List<PlannedDay> days = [];
        for (int day = 0; day < dates.Count; day++)
        {
            for (int unit = 0; unit < brief.Shoot.Units.Count; unit++)
            {
                double bytes = model.Study.Strands.Where(s => s.Unit == unit).Sum(s => (double)s.Bytes[day]);
                double minutes = model.Study.Strands.Where(s => s.Unit == unit).Sum(s => s.Seconds[day]) / 60;
                ShootUnit plan = brief.Shoot.Units[unit];
                if (day >= plan.FirstDay - 1 && day < plan.FirstDay - 1 + plan.Days)
                {
                    days.Add(new(dates[day], plan.Name, bytes, minutes));
                }
            }
        }

        JobFacts? job = model.Study.Jobs.FirstOrDefault(j => j.Kind == (comparison.Preferred == "transcode" ? "transcode" : "proxy"));
        double speed = job is null ? 1 : brief.Farm.Nodes.Select((n, i) => n.Count * job.ClassSpeeds[i]).Sum() / Math.Max(1, brief.Farm.Nodes.Sum(n => n.Count));
        return new(
            Digest(briefText), brief.Seed, days, WithDays(comparison.Bytes, days, brief.Shoot.DaySpread), Math.Max(0.05, brief.Shoot.DaySpread),
            job is null ? double.NaN : job.SecondsPerFrame / speed,
            Math.Min(1, Rehearsed(model.Study, comparison.Preferred ?? string.Empty) + brief.Input("finish.problem_share").Likely));
    }

    // Only a cut in proxies is conformed: of the pipeline taken, or of the proxies that the brief would make.
    private static double Rehearsed(PreparedStudy study, string preferred) =>
        study.Rehearsals.TryGetValue(Stages.PipelineBuilder.ProxySource(study.Brief, preferred), out RehearsalFacts? found) ? found.ProblemShare : 0;

    // Uncertain hours and the days' own spread are independent, so their widths are added in squares, on each side.
    private static Outcomes.Range WithDays(Outcomes.Range drawn, List<PlannedDay> days, double spread)
    {
        double own = NormalDistribution.Quantile(0.9) * spread * Math.Sqrt(days.Sum(d => d.Bytes * d.Bytes));
        double Wider(double width) => Math.Sqrt((width * width) + (own * own));
        return new(Math.Max(0, drawn.P50 - Wider(drawn.P50 - drawn.P10)), drawn.P50, drawn.P50 + Wider(drawn.P90 - drawn.P50));
    }

    /// <summary>SHA-256 of a text, in hex.</summary>
    /// <param name="text">The text.</param>
    public static string Digest(string text) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)));

    /// <summary>The baseline as JSON.</summary>
    public string ToJson() => new JsonObject
    {
        ["baseline"] = Version,
        ["brief_sha256"] = BriefDigest,
        ["seed"] = Seed,
        ["total_bytes"] = new JsonArray(TotalBytes.P10, TotalBytes.P50, TotalBytes.P90),
        ["day_spread"] = DaySpread,
        ["seconds_per_frame"] = double.IsNaN(SecondsPerFrame) ? null : SecondsPerFrame,
        ["problem_share"] = ProblemShare,
        ["days"] = new JsonArray([.. Days.Select(d => (JsonNode)new JsonObject
        {
            ["date"] = d.Date.ToString("uuuu-MM-dd", CultureInfo.InvariantCulture),
            ["unit"] = d.Unit,
            ["bytes"] = d.Bytes,
            ["minutes"] = d.Minutes,
        })]),
    }.ToJsonString(new JsonSerializerOptions { WriteIndented = true }) + "\n";

    /// <summary>Reads a baseline.</summary>
    /// <param name="path">The file.</param>
    /// <exception cref="BriefException">The file cannot be used.</exception>
    public static Baseline ReadFile(string path)
    {
        string text = BriefText.Read(path);
        try
        {
            JsonNode root = JsonNode.Parse(text)!;
            if ((int)root["baseline"]! != Version)
            {
                throw new BriefException(path, $"the baseline's version is {root["baseline"]}; allowed is {Version}");
            }

            double[] total = [.. root["total_bytes"]!.AsArray().Select(n => (double)n!)];
            return new(
                (string)root["brief_sha256"]!,
                (long)root["seed"]!,
                [.. root["days"]!.AsArray().Select(d => new PlannedDay(
                    BriefDates.TryDate((string)d!["date"]!, out LocalDate date) ? date : throw new BriefException(path, $"'{d["date"]}' is not a date"),
                    (string)d["unit"]!, (double)d["bytes"]!, (double)d["minutes"]!))],
                new(total[0], total[1], total[2]),
                (double)root["day_spread"]!,
                root["seconds_per_frame"] is { } seconds ? (double)seconds : double.NaN,
                (double)root["problem_share"]!);
        }
        catch (Exception error) when (error is JsonException or InvalidOperationException or NullReferenceException or FormatException or IndexOutOfRangeException)
        {
            throw new BriefException(path, $"this is not a baseline: {error.Message}");
        }
    }
}
