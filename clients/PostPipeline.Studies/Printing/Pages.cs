using System.Globalization;
using System.Text;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Outcomes;

namespace PostPipeline.Studies.Printing;

/// <summary>
/// Pages to hand over, as HTML for A4 or Letter, legible in grey, without scripts or colours. Names are escaped.
/// </summary>
public static class Pages
{
    // 245 mm is what both sizes leave between margins of 14 mm, the footer included; a page that is fuller breaks by itself.
    private const string Style =
        "@page{size:auto;margin:14mm}*{box-sizing:border-box}body{font:10.5pt/1.35 sans-serif;color:#000;background:#fff;margin:0 auto;max-width:186mm}section{min-height:245mm;display:flex;flex-direction:column}section+section{break-before:page}h1{font-size:16pt;margin:0 0 1mm}h2{font-size:12pt;margin:4mm 0 1mm;break-after:avoid}p{margin:1mm 0 2mm}ul{margin:1mm 0;padding-left:6mm}table{border-collapse:collapse;width:100%;margin:1mm 0 2mm}thead{display:table-header-group}tr{break-inside:avoid}td,th{border:1px solid #444;padding:.8mm 1.6mm;text-align:left;vertical-align:top;overflow-wrap:break-word}th{font-weight:700}footer{margin-top:auto;border-top:1px solid #444;font-size:8pt;padding-top:1mm}.blank{min-width:18mm;height:7mm}.short{white-space:nowrap}.signatures .blank{height:13mm;width:33%}.ticks .blank{min-width:0;height:8mm}.ticks th:nth-last-child(n+2){width:19mm}.ticks th:first-child{width:auto}.ticks th:last-child{width:52mm}";

    private static readonly (string Name, string Says, Func<Comparison, IReadOnlyList<Page>> Make)[] Kinds =
    [
        ("set-up", "the camera set-up, a page a camera", ShootPages.SetUp),
        ("record-times", "record time by mode and card", ShootPages.RecordTimes),
        ("offload-day", "the heaviest day's offload sheet with blanks", ShootPages.OffloadDay),
        ("release", "release evidence of a card", EvidencePages.Release),
        ("purge", "purge evidence of a generation", EvidencePages.Purge),
        ("producer", "the producer's page", OfficePages.Producer),
        ("order", "the order for cards, drives and tapes", OfficePages.Order),
        ("power", "the request for nodes, power and cooling", OfficePages.Power),
        ("unknowns", "assumptions and unknowns", OfficePages.Unknowns),
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
        IReadOnlyList<Page> pages = Kinds.First(k => k.Name == kind).Make(comparison);
        Brief brief = comparison.Model.Study.Brief;
        string foot = string.Create(
            CultureInfo.InvariantCulture,
            $"{brief.Title} · revision {footer.Revision} · {footer.Date} · seed {brief.Seed} · inputs {footer.InputDigest[..Math.Min(12, footer.InputDigest.Length)]} · {Guessed(brief)} of {brief.Inputs.Count} inputs guessed");
        StringBuilder html = new();
        html.Append("<!doctype html><html lang=\"en\"><head><meta charset=\"utf-8\"><title>").Append(Page.Escape($"{brief.Title}: {Describe(kind)}")).Append("</title><style>").Append(Style).Append("</style></head><body>");
        for (int i = 0; i < pages.Count; i++)
        {
            html.Append("<section>").Append(pages[i].Html).Append("<footer>")
                .Append(Page.Escape(string.Create(CultureInfo.InvariantCulture, $"{foot} · page {i + 1} of {pages.Count}")))
                .Append("</footer></section>");
        }

        return html.Append("</body></html>\n").ToString();
    }

    /// <summary>How many inputs of a brief nobody measured or quoted.</summary>
    internal static int Guessed(Brief brief) => brief.Inputs.Count(i => i.Known >= Known.Guessed || i.IsUnknown);
}
