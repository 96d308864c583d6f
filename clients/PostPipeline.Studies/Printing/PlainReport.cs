using System.Globalization;
using System.Net;
using System.Text;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Outcomes;

namespace PostPipeline.Studies.Printing;

/// <summary>A comparison as one plain HTML page without scripts: tables only.</summary>
public static class PlainReport
{
    /// <summary>The page.</summary>
    /// <param name="comparison">The comparison.</param>
    public static string Of(Comparison comparison)
    {
        StudyModel model = comparison.Model;
        Brief brief = model.Study.Brief;
        StringBuilder page = new();
        page.Append("<!doctype html><html lang=\"en\"><head><meta charset=\"utf-8\"><title>").Append(E(brief.Title)).Append("</title><style>")
            .Append("body{font:15px/1.45 sans-serif;max-width:64rem;margin:2rem auto;padding:0 1rem;color:#111;background:#fff}table{border-collapse:collapse;margin:1rem 0}td,th{border-bottom:1px solid #999;padding:.25rem .6rem;text-align:left;vertical-align:top}th{font-weight:600}@media(prefers-color-scheme:dark){body{color:#eee;background:#111}}@media print{body{margin:0;max-width:none}}")
            .Append("</style></head><body><h1>").Append(E(brief.Title)).Append("</h1><p>");
        page.Append(E(comparison.Preferred is null ? $"No pipeline is admissible: {comparison.Why}." : $"Preferred: {comparison.Preferred}. {comparison.Why}.")).Append("</p>");
        Row(page.Append("<table>"), true, "pipeline", "admissible", "delivery P10", "P50", "P90", "on time if the lock holds", "on time with lock slip", "online peak P90", "nearline peak P90", $"cost P50 {brief.Currency}", "binding limit", "next limit");
        foreach (PipelineOutcome p in comparison.Pipelines)
        {
            Row(
                page, false, p.Name, p.Admissible, model.Clock.DateText(p.Delivery.P10), model.Clock.DateText(p.Delivery.P50), model.Clock.DateText(p.Delivery.P90),
                Numbers.Percent(p.OnTimeIfLockHolds.Share, p.OnTimeIfLockHolds.StandardError), Numbers.Percent(p.OnTime.Share, p.OnTime.StandardError), Numbers.Size(p.OnlinePeak.P90), Numbers.Size(p.NearlinePeak.P90),
                Numbers.Money(p.Cost.P50, "XXX", p.Costs.Any(c => c.PriceInvented)), p.Binding?.Name ?? "–", p.Next?.Name ?? "–");
        }

        page.Append("</table><p>P(on time) holds if nothing outside the brief's list happens.</p>");
        foreach (PipelineOutcome p in comparison.Pipelines)
        {
            page.Append("<h2>").Append(E(p.Name)).Append("</h2>");
            Row(page.Append("<table>"), true, "gate", "state", "what was compared");
            foreach (Gate gate in p.Gates)
            {
                Row(page, false, gate.Name, gate.State.ToString().ToLowerInvariant(), gate.Says);
            }

            Row(page.Append("</table><table>"), true, "stage", "by", "start P50", "finish P50", "finish P90", "on the critical chain");
            foreach (StageOutcome stage in p.Stages)
            {
                Row(page, false, stage.Name, stage.Resource, model.Clock.Text(stage.Start.P50), model.Clock.Text(stage.Finish.P50), model.Clock.Text(stage.Finish.P90), Numbers.Percent(stage.CriticalShare));
            }

            Row(page.Append("</table><table>"), true, "cost", "who pays", "amount P50", "money P10", "P50", "P90");
            foreach (CostLine cost in p.Costs)
            {
                Row(page, false, cost.Name + (cost.PriceInvented ? " (invented price)" : string.Empty), cost.Payer, $"{Numbers.Three(cost.Amount.P50)} {cost.Unit}", Numbers.Three(cost.Money.P10), Numbers.Three(cost.Money.P50), Numbers.Three(cost.Money.P90));
            }

            Row(page.Append("</table><table>"), true, "quality", "value", "unit");
            foreach (QualityRow row in p.Quality)
            {
                Row(page, false, row.Name, row.Value, row.Unit);
            }

            page.Append("</table>");
            Findings(page, p.Findings);
        }

        page.Append("<h2>The shoot</h2>");
        Findings(page, comparison.Findings);
        Row(page.Append("<h2>Margins, each once</h2><table>"), true, "margin", "value", "on");
        foreach (Margin margin in comparison.Margins)
        {
            Row(page, false, margin.Name, margin.Value, margin.On);
        }

        int guessed = brief.Inputs.Count(i => i.Known >= Known.Guessed);
        page.Append("</table><p><small>").Append(E(string.Create(CultureInfo.InvariantCulture, $"Seed {brief.Seed}, {comparison.Evaluation.Draws} draws; {guessed} of {brief.Inputs.Count} inputs guessed or invented. Render times: {model.Study.Model.Source}.")))
            .Append(" A named human decides what is cleared or deleted; electrical load, cooling, working hours and contracts follow local codes and licensed practice.</small></p></body></html>\n");
        return page.ToString();
    }

    private static void Findings(StringBuilder page, IEnumerable<Finding> findings)
    {
        page.Append("<ul>");
        foreach (Finding finding in findings)
        {
            page.Append("<li><b>").Append(E(finding.Name)).Append("</b>: ").Append(E(finding.Says)).Append(finding.Remedy.Length > 0 ? $" <i>{E(finding.Remedy)}</i>" : string.Empty).Append("</li>");
        }

        page.Append("</ul>");
    }

    private static void Row(StringBuilder page, bool head, params string[] cells)
    {
        page.Append("<tr>");
        foreach (string cell in cells)
        {
            page.Append(head ? "<th>" : "<td>").Append(E(cell)).Append(head ? "</th>" : "</td>");
        }

        page.Append("</tr>");
    }

    private static string E(string text) => WebUtility.HtmlEncode(text);
}
