using System.Globalization;
using System.Net;
using System.Text;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Takes;

namespace PostPipeline.Studies.Printing;

/// <summary>
/// Pages to hand over, as HTML for A4 or Letter, legible in grey, without scripts or colours. Names are escaped.
/// </summary>
public static class Pages
{
    private const string Style =
        "@page{size:auto;margin:14mm}body{font:11pt/1.4 sans-serif;color:#000;background:#fff;margin:0 auto;max-width:190mm}section{page-break-after:always;min-height:90vh;display:flex;flex-direction:column;padding:4mm 0}h1{font-size:16pt;margin:0 0 2mm}h2{font-size:12pt;margin:4mm 0 1mm}table{border-collapse:collapse;width:100%;margin:2mm 0}td,th{border:1px solid #444;padding:1mm 2mm;text-align:left;vertical-align:top}th{font-weight:700}footer{margin-top:auto;border-top:1px solid #444;font-size:8pt;padding-top:1mm}.blank{min-width:25mm;height:6mm}";

    private static readonly (string Name, string Says, Func<Comparison, IReadOnlyList<string>> Make)[] Kinds =
    [
        ("set-up", "the camera set-up, a page a camera", SetUp),
        ("record-times", "record time by mode and card", RecordTimes),
        ("offload-day", "the heaviest day's offload sheet with blanks", OffloadDay),
        ("release", "release evidence of a card", Release),
        ("purge", "purge evidence of a generation", Purge),
        ("producer", "the producer's page", Producer),
        ("order", "the order for cards, drives and tapes", Order),
        ("power", "the request for nodes, power and cooling", Power),
        ("unknowns", "assumptions and unknowns", Unknowns),
    ];

    /// <summary>The kinds of page that there are.</summary>
    public static IReadOnlyList<string> KindNames { get; } = [.. Kinds.Select(k => k.Name)];

    /// <summary>What a kind of page is.</summary>
    /// <param name="kind">One of <see cref="KindNames"/>.</param>
    public static string Describe(string kind) => Kinds.First(k => k.Name == kind).Says;

    /// <summary>The pages of a kind, as one HTML file.</summary>
    /// <param name="kind">One of <see cref="KindNames"/>.</param>
    /// <param name="comparison">The comparison behind it.</param>
    /// <param name="footer">The footer.</param>
    public static string Of(string kind, Comparison comparison, PageFooter footer)
    {
        IReadOnlyList<string> bodies = Kinds.First(k => k.Name == kind).Make(comparison);
        Brief brief = comparison.Model.Study.Brief;
        int guessed = brief.Inputs.Count(i => i.Known >= Known.Guessed || i.IsUnknown);
        StringBuilder page = new();
        page.Append("<!doctype html><html lang=\"en\"><head><meta charset=\"utf-8\"><title>").Append(E($"{brief.Title}: {Describe(kind)}")).Append("</title><style>").Append(Style).Append("</style></head><body>");
        for (int i = 0; i < bodies.Count; i++)
        {
            page.Append("<section>").Append(bodies[i]).Append("<footer>")
                .Append(E(string.Create(CultureInfo.InvariantCulture, $"{brief.Title} · revision {footer.Revision} · {footer.Date} · seed {brief.Seed} · inputs {footer.InputDigest[..Math.Min(12, footer.InputDigest.Length)]} · {guessed} of {brief.Inputs.Count} inputs guessed · page {i + 1} of {bodies.Count}")))
                .Append("</footer></section>");
        }

        return page.Append("</body></html>\n").ToString();
    }

    private static List<string> SetUp(Comparison comparison)
    {
        PreparedStudy study = comparison.Model.Study;
        List<string> pages = [];
        for (int c = 0; c < study.Brief.Shoot.Cameras.Count; c++)
        {
            Camera camera = study.Brief.Shoot.Cameras[c];
            StringBuilder page = Head(study.Brief, $"Camera {camera.Letter}, unit {camera.Unit}");
            Table(page, ["set", "to", "done"], [
                ["camera letter in clip names", camera.Letter, string.Empty],
                ["reel of the first day, then one up a day", TakeNames.Reel(camera.Letter, 0), string.Empty],
                ["timecode", camera.RecordRun ? "record run, from the reel's start" : "free run, time of day, jammed from the master clock", string.Empty],
                ["labels when the sensor rate differs", camera.OffSpeedLabels == "unknown" ? "not known: find out before the first off-speed take" : camera.OffSpeedLabels, string.Empty],
                ["second, lighter file", camera.ProxyInCamera switch { true => "on", false => "off", null => "not decided" }, string.Empty],
            ]);
            page.Append("<h2>Modes</h2>");
            Table(page, ["mode", "raster", "depth", "project rate", "sensor rate", "records", "card lasts"], [.. study.Recordings.Where(r => r.Camera == c).Select(r =>
            {
                CaptureMode mode = camera.Recordings[r.Recording].Mode;
                return new[]
                {
                    mode.Name, mode.Raster.ToString(), $"{mode.Depth} bit", mode.ProjectRate.ToString(), mode.SensorRate.ToString(),
                    r.Kind == "burst" ? $"bursts of {Numbers.Three(r.BurstSeconds)} s, ready after {Numbers.Three(r.ReadyAgainSeconds)} s" : r.Sustained == true ? "without end, tested" : "by its numbers; test with a full card first",
                    Numbers.Duration(r.CardSeconds),
                };
            })]);
            page.Append("<p>Card: ").Append(E($"{camera.Card.Name}, {Numbers.Size(camera.Card.Size.Bytes)}, rated {Numbers.Rate(camera.Card.Write.BytesPerSecond.ToDouble())} written")).Append(". Clips are never renamed; reels are never reset.</p>");
            pages.Add(page.ToString());
        }

        return pages;
    }

    private static List<string> RecordTimes(Comparison comparison)
    {
        Brief brief = comparison.Model.Study.Brief;
        Card[] cards = [.. brief.Shoot.Cameras.Select(c => c.Card).Distinct()];
        StringBuilder page = Head(brief, "Record time by mode and card");
        Table(page, ["mode", .. cards.Select(c => $"{c.Name}, {Numbers.Size(c.Size.Bytes)}")], [.. comparison.Model.Study.Recordings
            .Select(r => (brief.Shoot.Cameras[r.Camera].Recordings[r.Recording].Mode, r.BytesPerFrame)).DistinctBy(p => p.Mode.Name)
            .Select(p =>
            {
                double rate = p.BytesPerFrame * p.Mode.SensorRate.FramesPerSecond.ToDouble();
                return (string[])[$"{p.Mode.Name} ({p.Mode.SensorRate} fps, {Numbers.Rate(rate)} written)", .. cards.Select(c =>
                    $"{Numbers.Duration(c.Size.Bytes / rate)}{(rate * p.Mode.PeakFactor > c.Write.BytesPerSecond.ToDouble() * c.Trust ? " of bursts" : string.Empty)}")];
            })]);
        page.Append("<p>Clock time of pictures alone, nothing kept free. Cards fill on the average, writes fail on the peak.</p>");
        return [page.ToString()];
    }

    private static List<string> OffloadDay(Comparison comparison)
    {
        PreparedStudy study = comparison.Model.Study;
        Brief brief = study.Brief;
        int day = comparison.LatestOffloadDay;
        StringBuilder page = Head(brief, $"Offload sheet, shoot day {day + 1} ({brief.Shoot.Dates()[day].ToString("uuuu-MM-dd", null)})");
        for (int unit = 0; unit < brief.Shoot.Units.Count; unit++)
        {
            if (double.IsNaN(study.Offload.EndSeconds[unit][day][0]))
            {
                continue;
            }

            page.Append("<h2>").Append(E($"Unit {brief.Shoot.Units[unit].Name}: last card done {Numbers.Clock(study.Offload.EndAt(unit, day, 1))} as planned; verify level: {brief.Offload.Verify}")).Append("</h2>");
            List<string[]> rows = [];
            for (int c = 0; c < brief.Shoot.Cameras.Count; c++)
            {
                Camera camera = brief.Shoot.Cameras[c];
                double bytes = study.Strands.Where(s => s.Camera == c).Sum(s => (double)s.Bytes[day]);
                int cards = camera.Unit == brief.Shoot.Units[unit].Name ? (int)Math.Ceiling(bytes / camera.Card.Size.Bytes) : 0;
                rows.AddRange(Enumerable.Range(1, cards).Select(n => (string[])[camera.Letter, $"{n}", Numbers.Size(Math.Min(camera.Card.Size.Bytes, bytes - ((n - 1.0) * camera.Card.Size.Bytes))), "", "", "", "", ""]));
            }

            rows.AddRange(Enumerable.Range(0, 2).Select(_ => (string[])["", "", "", "", "", "", "", ""]));
            Table(page, ["camera", "card", "planned", "pulled", "copied", "verified", "clips and minutes agree", "initials"], rows);
        }

        page.Append("<p>A named human decides whether a card is cleared; any unknown means: do not clear.</p>");
        return [page.ToString()];
    }

    private static List<string> Release(Comparison comparison) => [Evidence(
        comparison,
        "Release evidence of a card",
        ["verify level reached, cache bypassed", "every file in the manifest, none of zero length", "copies equal", "copies on two physical devices", "one copy elsewhere", "clip count and minutes agree with the report", "chunks complete", "looked at", "post confirms", "hold period over"],
        "This sheet never says that a card is safe to clear. A named human decides; any unknown means: do not clear.")];

    private static List<string> Purge(Comparison comparison) => [Evidence(
        comparison,
        "Purge evidence of a generation",
        ["generation and its owner named", "remakeable from (which generation)", "that generation found and read", "archive verified", "delivery accepted in writing", "contract's retention over", "nobody works on it"],
        "This sheet never says that a generation is safe to delete. A named human decides; any unknown means: do not delete.")];

    private static string Evidence(Comparison comparison, string title, string[] items, string caution)
    {
        StringBuilder page = Head(comparison.Model.Study.Brief, title);
        Table(page, ["camera, card or generation", "date", "from", "to"], [["", "", "", ""]]);
        Table(page, ["item", "present", "absent", "unknown", "seen by, at"], [.. items.Select(i => (string[])[i, "", "", "", ""])]);
        page.Append("<p>").Append(E(caution)).Append("</p>");
        Table(page, ["name", "date and time", "signature"], [["", "", ""], ["", "", ""]]);
        return page.ToString();
    }

    private static List<string> Producer(Comparison comparison)
    {
        StudyModel model = comparison.Model;
        Brief brief = model.Study.Brief;
        StringBuilder page = Head(brief, "Recommendation");
        page.Append("<p>").Append(E(comparison.Preferred is null ? $"No pipeline is admissible: {comparison.Why}." : $"Preferred: {comparison.Preferred}. {comparison.Why}.")).Append("</p>");
        Table(page, ["pipeline", "admissible", "delivery P50", "P90", "on time if the lock holds", "with lock slip", "online peak P90", $"cost P50 {brief.Currency}", "what sets the date"], [.. comparison.Pipelines.Select(p => new[]
        {
            p.Name, p.Admissible, model.Clock.DateText(p.Delivery.P50), model.Clock.DateText(p.Delivery.P90), Numbers.Percent(p.OnTimeIfLockHolds.Share), Numbers.Percent(p.OnTime.Share),
            Numbers.Size(p.OnlinePeak.P90), Numbers.Money(p.Cost.P50, "XXX", p.Costs.Any(c => c.PriceInvented)), p.Binding?.Name ?? "–",
        })]);
        page.Append("<p>").Append(E($"Due {model.Clock.Text(model.Due)}. The chances hold if nothing outside the brief's list happens.")).Append("</p>");
        if (comparison.Preferred is { } name && comparison.Of(name) is var preferred)
        {
            page.Append("<h2>Last responsible dates</h2><p>").Append(E(
                $"The shoot may start {(preferred.LatestShootStartDays is { } days ? $"{days} days later" : "no later")} than planned; the farm may start {(preferred.LatestFarmStart is { } start ? $"at the latest {model.Clock.Text(start)}" : "when it likes: it converts nothing")}, and the date is still kept at {Numbers.Percent(brief.Confidence)}.")).Append("</p><h2>Who pays</h2>");
            Table(page, ["payer", "P50", "P90"], [.. preferred.Costs.GroupBy(c => c.Payer).Select(g => new[] { g.Key, Numbers.Money(g.Sum(c => c.Money.P50), brief.Currency, g.Any(c => c.PriceInvented)), Numbers.Three(g.Sum(c => c.Money.P90)) })]);
            page.Append("<h2>Risks</h2><ul>");
            foreach (NamedEvent risk in brief.Events)
            {
                page.Append("<li>").Append(E($"{risk.Name}: {Numbers.Percent(risk.Probability)}, {Amounts.Text(risk.Delay.Likely, "d")}, {Numbers.Money(risk.Cost.Likely, brief.Currency, false)}")).Append("</li>");
            }

            page.Append("</ul>");
        }

        return [page.ToString()];
    }

    private static List<string> Order(Comparison comparison)
    {
        PreparedStudy study = comparison.Model.Study;
        Brief brief = study.Brief;
        StringBuilder page = Head(brief, "Order for cards, drives and tapes");
        List<string[]> rows = [.. brief.Shoot.Cameras.Select((c, i) => (c.Card, Count: study.Offload.CardsWithSpares[i])).GroupBy(p => p.Card.Name)
            .Select(g => new[] { $"cards '{g.Key}', {Numbers.Size(g.First().Card.Size.Bytes)}", $"{g.Sum(p => p.Count)}", "most at once on the heaviest day of each camera, a spare each" })];
        double tape = brief.Storage.TapeSize.Bytes * brief.Storage.TapeFill;
        double raw = comparison.Bytes.P90 / tape;
        rows.Add([$"tapes, {Numbers.Size(brief.Storage.TapeSize.Bytes)}", $"{brief.Storage.TapeCopies * (int)Math.Ceiling(raw)}", $"{brief.Storage.TapeCopies} sets of {Numbers.Three(raw)}, rounded up, for {Numbers.Size(comparison.Bytes.P90)} (P90) at {Numbers.Percent(brief.Storage.TapeFill)} fill"]);
        if (comparison.Preferred is { } name && comparison.Of(name) is var preferred)
        {
            void Disk(string tier, double peak, Tier means) => rows.Add([$"{tier} storage, raw", Numbers.Size(peak / (1 - means.Free) * means.Redundancy), $"{Numbers.Size(peak)} (P90) ÷ {Numbers.Three(1 - means.Free)} free × {Numbers.Three(means.Redundancy)} redundancy"]);
            Disk("online", preferred.OnlinePeak.P90, brief.Storage.Online);
            Disk("nearline", preferred.NearlinePeak.P90, brief.Storage.Nearline);
        }

        Table(page, ["item", "quantity", "why"], rows);
        page.Append("<p>Three copies on two kinds of media, one elsewhere; two verified copies before a card is released.</p>");
        return [page.ToString()];
    }

    private static List<string> Power(Comparison comparison)
    {
        Brief brief = comparison.Model.Study.Brief;
        StringBuilder page = Head(brief, "Request for nodes, power and cooling");
        Table(page, ["node class", "count", "cores", "memory"], [.. brief.Farm.Nodes.Select(n => new[] { n.Name, $"{n.Count}", $"{n.Cores}", $"{n.MemoryGigabytes} GB" })]);
        PowerRequest power = PowerRequest.Of(brief.Farm.Nodes.Sum(n => n.Count));
        Table(page, ["", "value", "how"], [
            ["electrical load", $"{Numbers.Three(power.Kilowatts)} kW", $"{Numbers.Three(PowerRequest.KilowattsOfANode)} kW a node (invented; measure the maximum) + {Numbers.Three(PowerRequest.KilowattsOfTheRest)} kW for switches and storage (invented)"],
            ["heat", $"{Numbers.Three(power.BtuPerHour)} BTU/h", "heat ≈ electrical load, 1 kW = 3,412 BTU/h"],
            ["current at 230 V", $"{Numbers.Three(power.Amperes)} A", "÷ 0.95 power factor (invented)"],
            ["circuit for continuous load", $"{Numbers.Three(power.CircuitAmperes)} A", "÷ 0.8: continuous load at most 80 % of a rating in US practice (value from memory)"],
        ]);
        page.Append("<p>Indicative only. A qualified electrician and local codes decide; use measured maxima rather than labels.</p>");
        return [page.ToString()];
    }

    private static List<string> Unknowns(Comparison comparison)
    {
        Brief brief = comparison.Model.Study.Brief;
        StringBuilder page = Head(brief, "Assumptions and unknowns");
        Table(page, ["input", "low / likely / high", "known", "from"], [.. brief.Inputs.Where(i => i.Known >= Known.Guessed || i.IsUnknown).Select(i => new[]
        {
            i.Key, i.IsConstant ? Amounts.Text(i.Likely, i.Unit) : $"{Amounts.Text(i.Low, i.Unit)} / {Amounts.Text(i.Likely, i.Unit)} / {Amounts.Text(i.High, i.Unit)}",
            i.IsUnknown ? "unknown" : i.Known.ToString().ToLowerInvariant(), i.Origin.Length > 0 ? i.Origin : i.Line > 0 ? $"line {i.Line}" : "default",
        })]);
        page.Append("<h2>Gates that nobody has shown</h2><ul>");
        foreach ((string pipeline, Gate gate) in comparison.Pipelines.SelectMany(p => p.Gates.Where(g => g.State == GateState.Unknown).Select(g => (p.Name, g))))
        {
            page.Append("<li>").Append(E($"{pipeline}, {gate.Name}: {gate.Says}")).Append("</li>");
        }

        page.Append("</ul><p>Left out, because the brief is silent about them: turnovers to sound, effects plates and their versions, further deliverables than versions of the master, archive beyond tapes.</p>");
        return [page.ToString()];
    }

    private static StringBuilder Head(Brief brief, string title) =>
        new StringBuilder("<h1>").Append(E(title)).Append("</h1><p>").Append(E(brief.Title)).Append("</p>");

    private static void Table(StringBuilder page, string[] head, IEnumerable<string[]> rows)
    {
        page.Append("<table><tr>");
        foreach (string cell in head)
        {
            page.Append("<th>").Append(E(cell)).Append("</th>");
        }

        page.Append("</tr>");
        foreach (string[] row in rows)
        {
            page.Append("<tr>");
            foreach (string cell in row)
            {
                page.Append(cell.Length == 0 ? "<td class=\"blank\">" : "<td>").Append(E(cell)).Append("</td>");
            }

            page.Append("</tr>");
        }

        page.Append("</table>");
    }

    private static string E(string text) => WebUtility.HtmlEncode(text);
}
