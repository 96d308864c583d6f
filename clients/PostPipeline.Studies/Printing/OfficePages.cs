using System.Globalization;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Outcomes;

namespace PostPipeline.Studies.Printing;

/// <summary>Pages for those who decide, pay and buy.</summary>
internal static class OfficePages
{
    private const int RowsOfATable = 26;

    public static IReadOnlyList<Page> Producer(Comparison comparison)
    {
        StudyModel model = comparison.Model;
        Brief brief = model.Study.Brief;
        Page page = new Page("Recommendation", brief.Title)
            .Text(comparison.Preferred is null ? $"No pipeline is admissible: {comparison.Why}." : $"Preferred: {comparison.Preferred}. {char.ToUpperInvariant(comparison.Why[0])}{comparison.Why[1..]}.")
            .Table(["pipeline", "admissible", "delivery P50", "P90", "on time, lock holds", "on time, lock slips", "online peak P90", $"cost P50 {brief.Currency}", "what sets the date"], comparison.Pipelines.Select(p => new[]
            {
                p.Name, p.Admissible, model.Clock.DateText(p.Delivery.P50), model.Clock.DateText(p.Delivery.P90), Numbers.Percent(p.OnTimeIfLockHolds.Share), Numbers.Percent(p.OnTime.Share),
                Numbers.Size(p.OnlinePeak.P90), Numbers.Three(p.Cost.P50) + (p.Costs.Any(c => c.PriceInvented) ? " (invented)" : string.Empty), p.Binding?.Name ?? "–",
            }))
            .Text($"Due {model.Clock.Text(model.Due)}. The chances hold if nothing outside the brief's list happens.{(2 * Pages.Guessed(brief) > brief.Inputs.Count ? $" They rest mostly on guesses: {Pages.Guessed(brief)} of {brief.Inputs.Count} inputs." : string.Empty)}");
        if (comparison.Preferred is { } name && comparison.Of(name) is var preferred)
        {
            page.Heading("Last responsible dates")
                .List(
                [
                    $"Shoot: {(preferred.LatestShootStartDays is { } days ? $"may start {days} days later than planned" : "may start no later than planned")}.",
                    $"Farm: {(preferred.LatestFarmStart is { } start ? $"must start by {model.Clock.Text(start)}" : "converts nothing, so its start does not count")}.",
                    $"Lock: {(preferred.LatestLockDays is { } locked ? locked >= 0 ? $"may be planned {locked} days later" : $"must be planned {-locked} days earlier" : "no lock date keeps the date")}.",
                ])
                .Text($"Each alone, with the date still kept in {Numbers.Percent(brief.Confidence)} of cases.")
                .Heading("Who pays")
                .Table(["payer", $"mean {brief.Currency}", "P50", "P90"],
                [
                    .. preferred.Payers.Select(y => new[] { y.Payer, Numbers.Money(y.Mean, "XXX", y.PriceInvented), Numbers.Three(y.Money.P50), Numbers.Three(y.Money.P90) }),
                    ["together", Numbers.Money(preferred.CostMean, "XXX", preferred.Payers.Any(y => y.PriceInvented)), Numbers.Three(preferred.Cost.P50), Numbers.Three(preferred.Cost.P90)],
                ])
                .Text("Means add up; P50 and P90 of parts do not.");
            if (brief.Events.Count > 0)
            {
                page.Heading("Risks counted").List(brief.Events.Select(risk =>
                    $"{risk.Name}: {Numbers.Percent(risk.Probability)}, {Amounts.Text(risk.Delay.Likely, "d")}{(risk.Cost.Likely > 0 ? $", {Numbers.Money(risk.Cost.Likely, brief.Currency, false)}" : string.Empty)}"));
            }
        }

        return [page.Text($"Not counted, because the brief is silent about it: {string.Join("; ", brief.LeftOut)}.")];
    }

    public static IReadOnlyList<Page> Order(Comparison comparison)
    {
        PreparedStudy study = comparison.Model.Study;
        Brief brief = study.Brief;
        double bytes = comparison.Bytes.P90;
        List<string[]> rows = [.. brief.Shoot.Cameras.Select((c, i) => (c.Card, Count: study.Offload.CardsWithSpares[i])).GroupBy(p => p.Card.Name)
            .Select(g => new[] { $"cards '{g.Key}', {Numbers.Size(g.First().Card.Size.Bytes)}", $"{g.Sum(p => p.Count)}", $"most at once on the heaviest day of each camera, a spare each{(g.First().Card.Count is { } owned ? $"; {owned} are there" : string.Empty)}", "" })];
        for (int copy = 0; copy < brief.Offload.Destinations.Count; copy++)
        {
            Destination destination = brief.Offload.Destinations[copy];
            rows.Add(destination.Size is { Bytes: > 0 } size
                ? [$"drives of copy {copy + 1}, {Numbers.Size(size.Bytes)}", $"{(long)Math.Ceiling(bytes / size.Bytes)}", $"{Numbers.Three(bytes / size.Bytes)}, rounded up, for {Numbers.Size(bytes)} (P90); {destination.Count} are there", ""]
                : [$"drives of copy {copy + 1}", Numbers.Size(bytes), $"all originals (P90), written at {Numbers.Rate(destination.Write.BytesPerSecond.ToDouble())}; the brief names no size of a drive", ""]);
        }

        if (brief.Storage.TapeCopies > 0)
        {
            double raw = bytes / (brief.Storage.TapeSize.Bytes * brief.Storage.TapeFill);
            rows.Add([$"tapes, {Numbers.Size(brief.Storage.TapeSize.Bytes)}", $"{brief.Storage.TapeCopies * (long)Math.Ceiling(raw)}", $"{brief.Storage.TapeCopies} sets of {Numbers.Three(raw)}, rounded up, for {Numbers.Size(bytes)} (P90) at {Numbers.Percent(brief.Storage.TapeFill)} fill", ""]);
        }

        if (comparison.Preferred is { } name && comparison.Of(name) is var preferred)
        {
            void Disk(string tier, double peak, Tier means) => rows.Add([$"{tier} storage, raw, for {name}", Numbers.Size(peak / (1 - means.Free) * means.Redundancy), $"{Numbers.Size(peak)} (P90) ÷ {Numbers.Three(1 - means.Free)} free × {Numbers.Three(means.Redundancy)} redundancy", ""]);
            Disk("online", preferred.OnlinePeak.P90, brief.Storage.Online);
            Disk("nearline", preferred.NearlinePeak.P90, brief.Storage.Nearline);
        }

        return
        [
            new Page("Order for cards, drives and tapes", brief.Title)
                .Table(["item", "quantity", "why", "ordered"], rows)
                .Text("Three copies on two kinds of media, one elsewhere; two verified copies before a card is released. No margin stands on these quantities but those that are named."),
        ];
    }

    public static IReadOnlyList<Page> Power(Comparison comparison)
    {
        Brief brief = comparison.Model.Study.Brief;
        PowerRequest power = PowerRequest.Of(brief.Farm.Nodes.Sum(n => n.Count));
        return
        [
            new Page("Request for nodes, power and cooling", brief.Title)
                .Table(["node class", "count", "cores each", "memory each", "graphics each"], brief.Farm.Nodes.Select(n => new[] { n.Name, $"{n.Count}", $"{n.Cores}", $"{n.MemoryGigabytes} GB", n.Gpu is "" ? "none" : n.Gpu }))
                .Text(string.Create(CultureInfo.InvariantCulture, $"{brief.Farm.Nodes.Sum(n => n.Count)} nodes together. Open {brief.Farm.Open:HH:mm} to {brief.Farm.Close:HH:mm}{(brief.Farm.AllDay.Count > 0 ? $", all day on {string.Join(", ", brief.Farm.AllDay.Select(d => d.ToString()))}" : string.Empty)}; shut {(brief.Farm.Maintenance.Count == 0 ? "on no date" : string.Join(", ", brief.Farm.Maintenance.Select(d => d.ToString("uuuu-MM-dd", CultureInfo.InvariantCulture))))}."))
                .Table(["what", "value", "how"],
                [
                    ["electrical load", $"{Numbers.Three(power.Kilowatts)} kW", $"{Numbers.Three(PowerRequest.KilowattsOfANode)} kW a node (invented; measure the maximum) + {Numbers.Three(PowerRequest.KilowattsOfTheRest)} kW for switches and storage (invented)"],
                    ["heat", $"{Numbers.Three(power.BtuPerHour)} BTU/h", "heat ≈ electrical load, 1 kW = 3,412 BTU/h"],
                    ["current at 230 V", $"{Numbers.Three(power.Amperes)} A", "÷ 0.95 power factor (invented)"],
                    ["circuit for continuous load", $"{Numbers.Three(power.CircuitAmperes)} A", "÷ 0.8: continuous load at most 80 % of a rating in US practice (value from memory)"],
                ])
                .Text("Indicative only. A qualified electrician and local codes decide; use measured maxima rather than labels."),
        ];
    }

    public static IReadOnlyList<Page> Unknowns(Comparison comparison)
    {
        Brief brief = comparison.Model.Study.Brief;
        string[][] rows = [.. brief.Inputs.Where(i => i.Known >= Known.Guessed || i.IsUnknown).Select(i => new[]
        {
            i.Key, i.IsConstant ? Amount(i.Likely, i.Unit) : $"{Amount(i.Low, i.Unit)} / {Amount(i.Likely, i.Unit)} / {Amount(i.High, i.Unit)}",
            i.IsUnknown ? "unknown" : i.Known.ToString().ToLowerInvariant(), i.Origin.Length > 0 ? i.Origin : i.Line > 0 ? $"line {i.Line}" : "default",
        })];
        List<Page> pages = [.. rows.Chunk(RowsOfATable).Select(part => new Page("Assumptions and unknowns", brief.Title).Table(["input", "low / likely / high", "known", "from"], part))];
        pages.Add(new Page("What nobody has shown, and what is left out", brief.Title)
            .Heading("Gates that nobody has shown")
            .List(comparison.Pipelines.SelectMany(p => p.Gates.Where(g => g.State == GateState.Unknown).Select(g => (g.Name, g.Says, p.Name)))
                .GroupBy(g => (g.Item1, g.Says)).Select(g => $"{g.Key.Item1} ({string.Join(", ", g.Select(p => p.Item3))}): {g.Key.Says}").DefaultIfEmpty("none"))
            .Heading("Left out, because the brief is silent about it")
            .List(brief.LeftOut)
            .Heading("Margins, each once")
            .Table(["margin", "value", "on"], comparison.Margins.Select(m => new[] { m.Name, m.Value, m.On })));
        return pages;
    }

    // As the brief would say it, but sizes and short times in the unit of a person.
    private static string Amount(double value, string unit) => unit switch
    {
        "B" => Numbers.Size(value),
        "B/s" => Numbers.Rate(value),
        "h" when Math.Abs(value) < 1 => Numbers.Duration(value * 3600),
        _ => Amounts.Text(value, unit),
    };
}
