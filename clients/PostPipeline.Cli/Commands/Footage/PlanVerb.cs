using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Client;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Studies.Printing;
using Spectre.Console;
using Tier = PostPipeline.Contracts.Footage.V1.Tier;

namespace PostPipeline.Cli.Commands.Footage;

/// <summary><c>storage plan</c>: generations laid over one another, tier by tier.</summary>
internal static class PlanVerb
{
    private const int SecondsPerDay = 86_400;

    private static readonly Argument<string> Generations = new("generations")
    {
        Description = "Comma-separated generations: name,tier,bytes,from,complete[,purge][,copies][,trigger][,payer]. Times in days after the plan's first day.",
    };

    private static readonly Option<string[]> Tiers = new Option<string[]>("--tier")
    {
        Description = "A tier: its name, or 'online: 200 TB usable, 0.2 free, 1.25 redundancy'. May stand several times; without it the tiers of the file.",
        HelpName = "TIER",
    }.Fills("tiers");

    private sealed record Share(string Generation, long Bytes);

    private sealed record Corner(double Day, long Bytes);

    private sealed record TierRow(
        string Tier, long PeakBytes, double PeakDay, long ToBuyBytes, long EndBytes, double? AlarmDay, double? StopIngestDay, double? FullDay, long? SpareBytes,
        IReadOnlyList<Share> AtPeak, IReadOnlyList<Corner> Curve, Reason? Derivation);

    public static Command Create() => new Command("plan", "Lay generations over one another: the peak of every tier and its day, what to buy, when alarms ring.") { Generations, Tiers, Given.Explain }.Runs(async session =>
    {
        SheetFile sheet = await SheetFile.ReadAsync(
            session.Line.GetValue(Generations)!, ["name", "tier", "bytes", "from", "complete"],
            ["name", "tier", "bytes", "from", "complete", "purge", "copies", "trigger", "payer"], session.Cancellation).ConfigureAwait(false);
        PlanOccupancyRequest request = new() { Explain = session.Line.GetValue(Given.Explain) };
        List<int> lines = [];
        foreach (int line in sheet.Rows())
        {
            lines.Add(line);
            Generation generation = new()
            {
                Label = sheet.Text("name"),
                Tier = sheet.Text("tier"),
                Bytes = sheet.Size("bytes"),
                Copies = sheet.Count("copies", 1),
                FromSeconds = Seconds(sheet.Days("from")),
                CompleteSeconds = Seconds(sheet.Days("complete")),
                PurgeTrigger = sheet.Text("trigger"),
                Payer = sheet.Text("payer"),
            };
            sheet.Require(generation.CompleteSeconds >= generation.FromSeconds, "complete", $"allowed is {sheet.Text("from")} or later: a generation is complete after its first byte");
            if (sheet.Text("purge").Length > 0)
            {
                generation.PurgeSeconds = Seconds(sheet.Days("purge"));
                sheet.Require(generation.PurgeSeconds >= generation.CompleteSeconds, "purge", $"allowed is {sheet.Text("complete")} or later: a generation is purged after it is complete");
            }

            request.Generations.Add(generation);
        }

        sheet.ThrowIfAny();
        request.Tiers.AddRange((session.Line.GetValue(Tiers) ?? []).Select(ReadTier));
        if (request.Tiers.Count == 0)
        {
            request.Tiers.AddRange(request.Generations.Select(g => g.Tier).Distinct().Select(t => new Tier { Label = t }));
        }

        StorageService.StorageServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).Storage;
        PlanOccupancyResponse response;
        try
        {
            response = await client.PlanOccupancyAsync(request, cancellationToken: session.Cancellation);
        }
        catch (ServiceCallException refused) when (refused.Violations.Count > 0)
        {
            // Every fault is shown: those of a generation with its line, others as the service says them.
            throw new InputException([.. refused.Violations.Select(v => ItemPlace.In("generations", v.Field) is { } generation
                ? sheet.Refused(lines[generation.Index], generation.Rest, v.Problem)
                : InputProblem.Of(v.Field, string.Empty, v.Problem))]);
        }

        List<TierRow> rows = [.. response.Tiers.Select(ToRow)];
        bool over = rows.Any(r => r.SpareBytes < 0);
        return session.Answer("postpipeline.storage.plan/1", rows, console => Print(console, rows), over ? ExitCode.No : ExitCode.Done);
    });

    private static long Seconds(double days) => (long)Math.Round(days * SecondsPerDay);

    private static Tier ReadTier(string text)
    {
        string[] named = text.Split(':', 2);
        Tier tier = new() { Label = named[0].Trim() };
        foreach (string part in named.Length == 1 ? [] : named[1].Split(',').Select(p => p.Trim()))
        {
            int space = part.LastIndexOf(' ');
            string value = space < 0 ? string.Empty : part[..space];
            switch (part[(space + 1)..])
            {
                case "usable":
                    tier.UsableBytes = Given.Size("--tier", value);
                    break;
                case "free":
                    tier.Free = Given.Fraction("--tier", value);
                    break;
                case "redundancy":
                    tier.Redundancy = Given.Fraction("--tier", value);
                    break;
                default:
                    throw Given.Refused("--tier", text, $"'{part}' is not understood; allowed are '200 TB usable', '0.2 free' and '1.25 redundancy'");
            }
        }

        return tier;
    }

    private static TierRow ToRow(TierOccupancy t) => new(
        t.Tier, t.PeakBytes, Day(t.PeakSeconds), t.ToBuyBytes, t.EndBytes, t.HasAlarmSeconds ? Day(t.AlarmSeconds) : null, t.HasStopIngestSeconds ? Day(t.StopIngestSeconds) : null,
        t.HasFullSeconds ? Day(t.FullSeconds) : null, t.HasSpareBytes ? t.SpareBytes : null, [.. t.AtPeak.Select(s => new Share(s.Label, s.Bytes))],
        [.. t.Points.Select(p => new Corner(Day(p.AtSeconds), p.Bytes))], Reason.From(t.Derivation));

    private static double Day(long seconds) => (double)seconds / SecondsPerDay;

    private static void Print(IAnsiConsole console, List<TierRow> rows)
    {
        Table table = new Table().Border(TableBorder.Simple).AddColumns("tier", "peak", "on day", "to buy, raw", "left at the end", "80 % on day", "90 % on day", "full on day", "to spare");
        foreach (TierRow row in rows)
        {
            table.AddRow(
                Markup.Escape(row.Tier), Numbers.Size(row.PeakBytes), $"{row.PeakDay:0.#}", Numbers.Size(row.ToBuyBytes), Numbers.Size(row.EndBytes),
                Or(row.AlarmDay), Or(row.StopIngestDay), Or(row.FullDay), row.SpareBytes is { } spare ? Numbers.Size(spare) : "-");
        }

        console.Write(table);
        foreach (TierRow row in rows)
        {
            console.WriteLine($"{row.Tier} at its peak: {string.Join(", ", row.AtPeak.Select(s => $"{s.Generation} {Numbers.Size(s.Bytes)}"))}");
            row.Derivation?.Print(console);
        }
    }

    private static string Or(double? day) => day is { } value ? $"{value:0.#}" : "never";
}
