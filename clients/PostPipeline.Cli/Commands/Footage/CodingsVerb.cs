using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Contracts.Footage.V1;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Footage;

/// <summary><c>footage codings</c>: codings by name, with their sources and their bytes for a raster.</summary>
internal static class CodingsVerb
{
    private static readonly Argument<string?> Stem = new("stem") { Description = "Only names that begin so.", Arity = ArgumentArity.ZeroOrOne };
    private static readonly Option<string?> Raster = Given.Text("--raster", "Raster for bytes a frame; the coding's only one, else 1920x1080, without it.", "WxH");
    private static readonly Option<string?> Rate = Given.Text("--rate", "Frames a second for bytes a frame of codings that hold a bit rate; 24 without it.", "FPS");

    private sealed record Row(string Name, string Title, string Kind, string Formula, long BytesPerFrame, long LowBytesPerFrame, long PeakBytesPerFrame, string Source, Reason? Derivation);

    public static Command Create() => new Command("codings", "List codings by name with the rule, bytes a frame and the source of each.")
    {
        Stem, Raster, Rate, ModeOptions.OwnCodings, Given.Explain,
    }.Runs(async session =>
    {
        ListCodingsRequest request = new() { OwnCodings = await session.OwnCodingsAsync(ModeOptions.OwnCodings).ConfigureAwait(false), Explain = session.Line.GetValue(Given.Explain) };
        if (session.Line.GetValue(Raster) is not null)
        {
            request.Raster = session.Pixels(Raster);
        }

        request.Rate = session.Frames(Rate);
        FootageService.FootageServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).Footage;
        ListCodingsResponse response = await client.ListCodingsAsync(request, cancellationToken: session.Cancellation);
        string stem = session.Line.GetValue(Stem) ?? string.Empty;
        List<Row> rows =
        [
            .. response.Codings.Where(c => c.Name.StartsWith(stem, StringComparison.Ordinal)).Select(c =>
                new Row(c.Name, c.Title, c.Kind, c.Formula, c.BytesPerFrame, c.LowBytesPerFrame, c.PeakBytesPerFrame, c.Source, Reason.From(c.Derivation))),
        ];
        if (rows.Count == 0)
        {
            throw Given.Refused("stem", stem, $"is the beginning of none of {response.Codings.Count} codings; list all without it");
        }

        return session.Answer("postpipeline.footage.codings/1", rows, console => Print(console, rows));
    });

    private static void Print(IAnsiConsole console, List<Row> rows)
    {
        Table table = new Table().Border(TableBorder.Simple).AddColumns("name", "what", "rule", "bytes a frame", "source");
        foreach (Row row in rows)
        {
            string bytes = row.PeakBytesPerFrame == 0 ? "does not carry it" : row.LowBytesPerFrame == row.PeakBytesPerFrame ? $"{row.BytesPerFrame}" : $"{row.BytesPerFrame} ({row.LowBytesPerFrame} to {row.PeakBytesPerFrame})";
            table.AddRow(Markup.Escape(row.Name), Markup.Escape(row.Title), Markup.Escape(row.Kind), bytes, Markup.Escape(row.Source));
        }

        console.Write(table);
        rows.ForEach(r => r.Derivation?.Print(console));
    }
}
