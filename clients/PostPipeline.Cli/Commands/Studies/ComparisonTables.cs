using PostPipeline.Studies;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Derivations;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Printing;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Studies;

/// <summary>A comparison on a terminal.</summary>
internal static class ComparisonTables
{
    /// <summary>The shoot in three lines, a row a pipeline, and which is preferred and why.</summary>
    public static void PrintShort(IAnsiConsole console, Comparison comparison)
    {
        StudyModel model = comparison.Model;
        Brief brief = model.Study.Brief;
        console.WriteLine($"{brief.Title}: {brief.Shoot.Days} shoot days from {brief.Shoot.Starts:uuuu-MM-dd}, {brief.Shoot.Cameras.Count} cameras, due {model.Clock.Text(model.Due)}; {comparison.Evaluation.Draws} draws, seed {brief.Seed}");
        console.WriteLine($"A shoot day makes {Numbers.Size(comparison.BytesPerDay.Mean)} (most {Numbers.Size(comparison.BytesPerDay.Most)}); the latest offload ends {Numbers.Clock(comparison.LatestOffloadEnd)} on shoot day {comparison.LatestOffloadDay + 1}.");
        console.WriteLine($"Modes: {string.Join("; ", Modes(model.Study))}.");
        Table table = new Table().Border(TableBorder.Simple).AddColumns(
            "pipeline", "per day", "recorded", "offload ends", "farm done P50", "online peak P50 / P90", "nearline P90", "delivery P10", "P50", "P90", "on time, lock held / slips", $"cost P50{(brief.Currency == "XXX" ? string.Empty : " " + brief.Currency)}", "admissible");
        string recorded = string.Join(" + ", model.Study.Recordings.Select(r => r.Kind).Distinct());
        foreach (PipelineOutcome p in comparison.Pipelines)
        {
            table.AddRow(new[]
            {
                p.Name == comparison.Preferred ? p.Name + " *" : p.Name,
                Numbers.Size(comparison.BytesPerDay.Mean),
                recorded,
                Numbers.Clock(comparison.LatestOffloadEnd),
                p.HasFarmStage ? model.Clock.DateText(p.FarmFinish.P50) : "–",
                $"{Numbers.Size(p.OnlinePeak.P50)} / {Numbers.Size(p.OnlinePeak.P90)}",
                Numbers.Size(p.NearlinePeak.P90),
                model.Clock.DateText(p.Delivery.P10),
                model.Clock.DateText(p.Delivery.P50),
                model.Clock.DateText(p.Delivery.P90),
                $"{Numbers.Percent(p.OnTimeIfLockHolds.Share)} / {Numbers.Percent(p.OnTime.Share, p.OnTime.StandardError)}",
                Numbers.Three(p.Cost.P50) + (p.Costs.Any(c => c.PriceInvented) ? " (invented prices)" : string.Empty),
                p.Admissible,
            }.Select(Markup.Escape).ToArray());
        }

        console.Write(table);
        console.WriteLine(comparison.Preferred is null ? $"No pipeline is admissible: {comparison.Why}." : $"Preferred: {comparison.Preferred}. {char.ToUpperInvariant(comparison.Why[0])}{comparison.Why[1..]}.");
        console.WriteLine("P(on time) counts only what the brief lists; dates are P90 for promises, and the last responsible dates stand in the report.");
    }

    /// <summary>The comparison with gates, limits, money and findings, and the tree behind a number where asked for.</summary>
    public static void Print(IAnsiConsole console, Comparison comparison, string? why)
    {
        PrintShort(console, comparison);
        StudyModel model = comparison.Model;
        foreach (PipelineOutcome p in comparison.Pipelines)
        {
            console.WriteLine();
            console.WriteLine($"{p.Name}: {p.Admissible switch { "yes" => "admissible", "no" => "not admissible", _ => "not proven" }}");
            foreach (Gate gate in p.Gates)
            {
                console.WriteLine($"  {(gate.State switch { GateState.Passes => "passes ", GateState.Fails => "FAILS  ", _ => "unknown" })} {gate.Name}: {gate.Says}");
            }

            console.WriteLine($"  binding limit: {Limit(p.Binding)}");
            console.WriteLine($"  next limit: {Limit(p.Next)}");
            console.WriteLine($"  last responsible shoot start: {(p.LatestShootStartDays is { } days ? $"{days} days later than planned" : "the date gate fails as planned")}; last responsible farm start: {(p.LatestFarmStart is { } start ? model.Clock.Text(start) : "–")}; last responsible lock: {LockText(p.LatestLockDays)}");
            console.WriteLine("  money (P50):");
            foreach (CostLine cost in p.Costs)
            {
                console.WriteLine($"    {cost.Name,-40} {Numbers.Three(cost.Money.P50),12}  {cost.Payer}{(cost.PriceInvented ? ", invented price" : string.Empty)}");
            }

            console.WriteLine($"  who pays (means, which add up to {Numbers.Three(p.CostMean)}): {string.Join(", ", p.Payers.Select(y => $"{y.Payer} {Numbers.Three(y.Mean)}{(y.PriceInvented ? " (invented prices)" : string.Empty)}"))}");
            foreach (QualityRow row in p.Quality)
            {
                console.WriteLine($"  quality, {row.Name}: {$"{row.Value} {row.Unit}".TrimEnd()}");
            }

            foreach (Finding finding in p.Findings)
            {
                console.WriteLine($"  {finding.Name}: {finding.Says}{(finding.Remedy.Length > 0 ? $" → {finding.Remedy}" : string.Empty)}");
            }
        }

        console.WriteLine();
        foreach (Finding finding in comparison.Findings)
        {
            console.WriteLine($"{finding.Name}: {finding.Says}{(finding.Remedy.Length > 0 ? $" → {finding.Remedy}" : string.Empty)}");
        }

        foreach (PairOutcome pair in comparison.Pairs)
        {
            console.WriteLine($"{pair.First} delivers before {pair.Second} in {Numbers.Percent(pair.Before.Share, pair.Before.StandardError)} of cases{(pair.Together.Share > 0 ? $", at the same moment in {Numbers.Percent(pair.Together.Share, pair.Together.StandardError)}," : string.Empty)} and is cheaper in {Numbers.Percent(pair.Cheaper.Share, pair.Cheaper.StandardError)}");
        }

        console.WriteLine($"Margins, each once: {string.Join("; ", comparison.Margins.Select(m => $"{m.Name} {m.Value} on {m.On}"))}");
        if (why is not null)
        {
            console.WriteLine();
            foreach (string line in new Why(comparison).Of(why).SelectMany(d => d.Lines()))
            {
                console.WriteLine(line);
            }
        }
    }

    private static IEnumerable<string> Modes(PreparedStudy study) => study.Recordings
        .Select(r => (Mode: study.Brief.Shoot.Cameras[r.Camera].Recordings[r.Recording].Mode.Name, r))
        .DistinctBy(p => (p.Mode, p.r.Kind))
        .Select(p => $"{p.Mode} {(p.r.Kind == "burst" ? $"burst of {Numbers.Three(p.r.BurstSeconds)} s" : p.r.Kind)} ({Numbers.Rate(p.r.NeededBytesPerSecond)} written, ceiling {Numbers.Rate(p.r.CeilingBytesPerSecond)})");

    private static string LockText(int? days) => days switch
    {
        null => "no lock date keeps the date",
        < 0 => $"{-days} days earlier than planned",
        _ => $"{days} days later than planned",
    };

    private static string Limit(LimitMove? limit) => limit is null ? "nothing tried moves the date" : $"{limit.Name}: {limit.Says}";
}
