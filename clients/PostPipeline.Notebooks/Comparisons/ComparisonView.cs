using NodaTime;
using PostPipeline.Notebooks.Charts;
using PostPipeline.Notebooks.Rendering;
using PostPipeline.Quantities;
using PostPipeline.Studies;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Outcomes;

namespace PostPipeline.Notebooks.Comparisons;

/// <summary>A comparison as charts, tables and sentences: one member a claim, so that a cell is one line.</summary>
/// <param name="comparison">The comparison.</param>
public sealed class ComparisonView(Comparison comparison)
{
    private Brief Brief => comparison.Model.Study.Brief;

    private StudyModel Model => comparison.Model;

    /// <summary>The answer in a sentence.</summary>
    public Markdown Answer => new(comparison.Preferred is string preferred
        ? $"**{preferred}** is preferred: {comparison.Why}."
        : $"**No pipeline is admissible**: {comparison.Why.Replace("none is admissible: ", string.Empty, StringComparison.Ordinal)}.");

    /// <summary>The same with binding limits and last responsible dates, which take a hundred evaluations more.</summary>
    public ComparisonView Complete() => new(Compare.Complete(comparison, Output.Threads, Output.Stop));

    /// <summary>What sets each pipeline's answer now, and what would after that; only of a complete view.</summary>
    public Markdown Limits => new(string.Join("\n", comparison.Pipelines.Select(p =>
        $"- {p.Name}: {(p.Binding is { Name.Length: > 0 } binding ? $"set now by *{binding.Name}* ({binding.Says})" : "no single limit moves it")}{(p.Next is { Name.Length: > 0 } next ? $"; after that by *{next.Name}*" : string.Empty)}.")));

    /// <summary>The date that is as likely missed as met, and the one that can be promised.</summary>
    public NumberTable Promises => new(
        "What is promised with P50, and what is delivered with P90",
        ["Pipeline", "Promised with P50", "Chance of missing it", "Delivered with P90", "Days between"],
        [.. comparison.Pipelines.Select(IReadOnlyList<object?> (p) => [p.Name, Day(p.Delivery.P50), "1 in 2", Day(p.Delivery.P90), (p.Delivery.P90 - p.Delivery.P50) / 86_400])]);

    /// <summary>One row a pipeline: admissible, dates, chances, peaks, money.</summary>
    public NumberTable Summary => new(
        "The pipelines side by side",
        ["Pipeline", "Admissible", "Delivery P50", "Delivery P90", "On time, lock holds", "On time, lock slips", "Online peak P90 (TB)", "Nearline peak P90 (TB)", $"Cost P50 ({MoneyUnit})", "Farm (node-hours)", "People (hours)"],
        [.. comparison.Pipelines.Select(IReadOnlyList<object?> (p) => [
            p.Name, p.Admissible, Day(p.Delivery.P50), Day(p.Delivery.P90), Say.Probability(p.OnTimeIfLockHolds.Share), Say.Probability(p.OnTime.Share),
            p.OnlinePeak.P90 / 1e12, p.NearlinePeak.P90 / 1e12, p.Cost.P50, p.NodeHours.P50, p.PeopleHours.P50])]);

    /// <summary>Bytes by day by tier with the capacity as a line.</summary>
    public Figure Occupancy
    {
        get
        {
            IReadOnlyList<OccupancyByDay> days = OccupancyByDay.Of(comparison);
            double last = days.SelectMany(d => d.Online.Concat(d.Nearline)).Where(d => d.Bytes.P90 > 0).Select(d => d.Seconds).DefaultIfEmpty().Max();
            OccupancyTier Tier(string name, Tier tier, Func<OccupancyByDay, IReadOnlyList<OccupancyDay>> of) => new(
                name,
                [.. days.Select(d => new OccupancyCurve(d.Pipeline, [.. of(d).Where(day => day.Seconds <= last + 604_800).Select(day => new OccupancyPoint(At(day.Seconds), day.Bytes.P50 / 1e12, day.Bytes.P10 / 1e12, day.Bytes.P90 / 1e12))]))],
                double.IsFinite(tier.UsableBytes) ? tier.UsableBytes / 1e12 : null);
            return Chart.Occupancy(
                "Does the material fit? Bytes by day on each tier, P10 to P90",
                [Tier("online", Brief.Storage.Online, d => d.Online), Tier("nearline", Brief.Storage.Nearline, d => d.Nearline)]);
        }
    }

    /// <summary>Stages in time.</summary>
    public Figure Schedule => Chart.Schedule(
        "When is each step done? P50, with a tail to P90; outlined: usually critical",
        [.. comparison.Pipelines.SelectMany(p => p.Stages.OrderBy(s => s.Start.P50).ThenBy(s => s.Finish.P50).Select(s => new ScheduleBar(p.Name, s.Name, At(s.Start.P50), At(Math.Max(s.Start.P50, s.Finish.P50)), At(Math.Max(s.Finish.P50, s.Finish.P90)), s.CriticalShare > 0.5)))],
        [new(At(Model.Due), "delivery due")]);

    /// <summary>P(on time), with and without lock slip.</summary>
    public Figure OnTime => Chart.OnTime(
        "How sure is the date?",
        [.. comparison.Pipelines.Select(p => new OnTimeBar(p.Name, p.OnTimeIfLockHolds.Share, p.OnTime.Share, p.OnTimeIfLockHolds.StandardError, p.OnTime.StandardError))],
        Brief.Confidence);

    /// <summary>Cost against delivery.</summary>
    public Figure TradeOff => Chart.TradeOff(
        "What does an earlier date cost? P50, with P10 to P90",
        new(MoneyName, Brief.Currency),
        new("Accepted delivery", "days from the shoot"),
        [.. comparison.Pipelines.Select(p => new TradeOffPoint(p.Name, p.Cost.P50, p.Cost.P10, p.Cost.P90, p.Delivery.P50 / 86_400, p.Delivery.P10 / 86_400, p.Delivery.P90 / 86_400, p.Admissible == "yes"))],
        null,
        new(Model.Due / 86_400.0, $"due {Day(Model.Due)}"));

    /// <summary>Where the money goes.</summary>
    public Figure Costs => Chart.Bars(
        "Where does the money go? P50",
        new(MoneyName, Brief.Currency),
        [.. comparison.Pipelines.SelectMany(p => p.Costs.Where(c => c.Money.P50 > 0).Select(c => new BarRow(p.Name, c.Name, c.Money.P50)))],
        stacked: true);

    /// <summary>Every cost line with its range and who pays.</summary>
    public NumberTable CostLines => new(
        $"Cost lines ({MoneyUnit})",
        ["Pipeline", "What", "Who pays", "Amount P50", "Unit", "Cost P10", "Cost P50", "Cost P90", "Price"],
        [.. comparison.Pipelines.SelectMany(p => p.Costs.Select(IReadOnlyList<object?> (c) => [p.Name, c.Name, c.Payer, c.Amount.P50, c.Unit, c.Money.P10, c.Money.P50, c.Money.P90, c.PriceInvented ? "invented" : "given"]))]);

    /// <summary>Every gate of every pipeline.</summary>
    public NumberTable Gates => new(
        "Gates: what passes, what fails, what nobody has shown",
        ["Pipeline", "Gate", "State", "What was compared"],
        [.. comparison.Pipelines.SelectMany(p => p.Gates.Select(IReadOnlyList<object?> (g) => [p.Name, g.Name, g.State switch { GateState.Passes => "passes", GateState.Fails => "FAILS", _ => "unknown" }, g.Says]))]);

    /// <summary>Quality rows, a column a pipeline.</summary>
    public NumberTable Quality
    {
        get
        {
            (string Name, string Unit)[] rows = [.. comparison.Pipelines.SelectMany(p => p.Quality.Select(q => (q.Name, q.Unit))).Distinct()];
            return new(
                "Quality, row by row; no score is made of it",
                ["What", "Unit", .. comparison.Pipelines.Select(p => p.Name)],
                [.. rows.Select(IReadOnlyList<object?> (row) => [row.Name, row.Unit, .. comparison.Pipelines.Select(p => (object?)p.Quality.FirstOrDefault(q => q.Name == row.Name && q.Unit == row.Unit)?.Value)])]);
        }
    }

    /// <summary>What a person should know or mend.</summary>
    public NumberTable Findings => new(
        "Findings, and what mends them",
        ["Where", "Finding", "What is so", "What to do"],
        [
            .. comparison.Findings.Select(IReadOnlyList<object?> (f) => ["the shoot", f.Name, f.Says, RemedyOf(f)]),
            .. comparison.Pipelines.SelectMany(p => p.Findings.Select(IReadOnlyList<object?> (f) => [p.Name, f.Name, f.Says, RemedyOf(f)])),
        ]);

    /// <summary>Every margin once.</summary>
    public NumberTable Margins => new("Margins in these answers, each once", ["Margin", "Value", "On"], [.. comparison.Margins.Select(IReadOnlyList<object?> (m) => [m.Name, m.Value, m.On])]);

    /// <summary>The last responsible dates.</summary>
    public NumberTable LastDates => new(
        $"How late can it start and still be on time with {Say.Probability(Brief.Confidence)}?",
        ["Pipeline", "Shoot may start later by (days)", "Farm may start as late as"],
        [.. comparison.Pipelines.Select(IReadOnlyList<object?> (p) => [p.Name, p.LatestShootStartDays is int days ? days : "already too late", p.LatestFarmStart is double farm ? Day(farm) : p.HasFarmStage ? "already too late" : "no farm work"])]);

    /// <summary>The inputs: how many are measured, quoted, guessed, invented.</summary>
    public Markdown HowSure
    {
        get
        {
            int Count(Known known) => Brief.Inputs.Count(i => i.Known == known);
            return new($"Of {Brief.Inputs.Count} inputs {Count(Known.Measured)} are measured, {Count(Known.Quoted)} quoted, {Count(Known.Guessed)} guessed and {Count(Known.Invented)} invented. Seed {Brief.Seed}, {comparison.Evaluation.Draws} draws. Render times: {Model.Study.Model.Source}. P(on time) holds if nothing outside the brief's list happens.");
        }
    }

    private string MoneyUnit => $"{Brief.Currency}{(comparison.Pipelines.Any(p => p.Costs.Any(c => c.PriceInvented)) ? ", invented prices" : string.Empty)}";

    private string MoneyName => comparison.Pipelines.Any(p => p.Costs.Any(c => c.PriceInvented)) ? "Cost at invented prices" : "Cost";

    private DateTime At(double seconds)
    {
        LocalDateTime local = Model.Clock.Local(Math.Clamp(seconds, -3e9, 3e9));
        return new(local.Year, local.Month, local.Day, local.Hour, local.Minute, 0, DateTimeKind.Unspecified);
    }

    private string Day(double seconds) => Model.Clock.DateText(seconds);

    private static string RemedyOf(Finding finding) => finding.Remedy.Length > 0 ? finding.Remedy : "nothing";
}
