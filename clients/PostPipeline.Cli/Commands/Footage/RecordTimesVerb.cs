using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Contracts.Footage.V1;
using Spectre.Console;
using Rational = PostPipeline.Contracts.Types.V1.Rational;

namespace PostPipeline.Cli.Commands.Footage;

/// <summary><c>footage record-times</c>: how long each card lasts in each mode.</summary>
internal static class RecordTimesVerb
{
    private static readonly Option<string[]> Cards = new Option<string[]>("--card")
    {
        Description = "A card's size, such as 512 GB (decimal) or 480 GiB; may stand several times.",
        HelpName = "SIZE",
        Required = true,
    }.Fills("medium.capacity_bytes");

    private static readonly Option<string?> Reserve = Given.Text("--reserve", "Part of each card kept free, such as 0.02; none without it.", "PART").Fills("medium.reserve");

    private sealed record Cell(string Coding, string Card, long CardBytes, double RecordSeconds, double ScreenSeconds, long Frames, Reason? Derivation);

    public static Command Create() => new Command("record-times", "Print how long each card lasts in each mode: minutes recorded, and on screen.")
    {
        ModeOptions.Codings, ModeOptions.Raster, ModeOptions.SensorRate, ModeOptions.ProjectRate, ModeOptions.AudioChannels, ModeOptions.OwnCodings, Cards, Reserve, Given.Explain,
    }.Runs(async session =>
    {
        EstimateRatesRequest rates = new() { OwnCodings = await session.OwnCodingsAsync(ModeOptions.OwnCodings).ConfigureAwait(false) };
        rates.Items.AddRange(ModeOptions.Items(session));
        string[] cards = session.Line.GetValue(Cards)!;
        FootageService.FootageServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).Footage;
        AssessRecordingsRequest request = new() { Explain = session.Line.GetValue(Given.Explain) };
        foreach (RateResult result in (await client.EstimateRatesAsync(rates, cancellationToken: session.Cancellation)).Results)
        {
            Given.Refuse(result.Error, result.Label);
            request.Items.AddRange(cards.Select(card => new RecordingItem
            {
                Label = result.Label,
                BytesPerFrame = result.Estimate.BytesPerFrame,
                SensorRate = session.Frames(ModeOptions.SensorRate),
                ProjectRate = session.Frames(ModeOptions.ProjectRate) ?? session.Frames(ModeOptions.SensorRate),
                AudioBytesPerSecond = result.Estimate.AudioBytesPerSecond,
                Medium = new() { CapacityBytes = Given.Size("--card", card), RatedBytesPerSecond = new Rational { Numerator = 1, Denominator = 1 }, Reserve = session.Fraction(Reserve) },
            }));
        }

        List<Cell> cells = [];
        AssessRecordingsResponse response = await client.AssessRecordingsAsync(request, cancellationToken: session.Cancellation);
        for (int i = 0; i < response.Results.Count; i++)
        {
            Given.Refuse(response.Results[i].Error);
            RecordingAssessment a = response.Results[i].Assessment;
            cells.Add(new(response.Results[i].Label, cards[i % cards.Length], request.Items[i].Medium.CapacityBytes, a.RecordSeconds, a.ScreenSeconds, a.Frames, Reason.From(a.Derivation?.Inputs.Single(d => d.Name == "record time"))));
        }

        return session.Answer("postpipeline.footage.record-times/1", cells, console => Print(console, cells, cards));
    });

    private static void Print(IAnsiConsole console, List<Cell> cells, string[] cards)
    {
        Table table = new Table().Border(TableBorder.Simple).AddColumns(["mode", .. cards.Select(Markup.Escape)]);
        foreach (IGrouping<string, Cell> row in cells.GroupBy(c => c.Coding))
        {
            table.AddRow([Markup.Escape(row.Key), .. row.Select(c => c.RecordSeconds == c.ScreenSeconds ? $"{c.RecordSeconds / 60:0.00} min" : $"{c.RecordSeconds / 60:0.00} min ({c.ScreenSeconds / 60:0.00} on screen)")]);
        }

        console.Write(table);
        foreach (long card in cells.Select(c => c.CardBytes).Distinct())
        {
            console.WriteLine(Printed.BothUnits(card));
        }

        cells.ForEach(c => c.Derivation?.Print(console));
    }
}
