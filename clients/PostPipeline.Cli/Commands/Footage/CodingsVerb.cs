using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Contracts.Footage.V1;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Footage;

/// <summary><c>footage codings</c>: codings by name, with their sources.</summary>
internal static class CodingsVerb
{
    private static readonly Argument<string?> Stem = new("stem") { Description = "Only names that begin so.", Arity = ArgumentArity.ZeroOrOne };

    private sealed record Row(string Name, string Title, string Kind, string Formula, string Source);

    public static Command Create() => new Command("codings", "List codings by name with the rule and the source of each.") { Stem, ModeOptions.OwnCodings }.Runs(async session =>
    {
        FootageService.FootageServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).Footage;
        string own = await session.OwnCodingsAsync(ModeOptions.OwnCodings).ConfigureAwait(false);
        ListCodingsResponse response = await client.ListCodingsAsync(new() { OwnCodings = own }, cancellationToken: session.Cancellation);
        string stem = session.Line.GetValue(Stem) ?? string.Empty;
        List<Row> rows = [.. response.Codings.Where(c => c.Name.StartsWith(stem, StringComparison.Ordinal)).Select(c => new Row(c.Name, c.Title, c.Kind, c.Formula, c.Source))];
        return session.Answer("postpipeline.footage.codings/1", rows, console =>
        {
            Table table = new Table().Border(TableBorder.Simple).AddColumns("name", "what", "rule", "source");
            foreach (Row row in rows)
            {
                table.AddRow(Markup.Escape(row.Name), Markup.Escape(row.Title), Markup.Escape(row.Kind), Markup.Escape(row.Source));
            }

            console.Write(table);
        });
    });
}
