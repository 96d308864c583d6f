using System.CommandLine;
using System.Text;
using Grpc.Core;
using PostPipeline.Cli.Frame;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Studies.Benchmarks;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.RenderTimes;

/// <summary><c>benchmarks</c>: lists, exports and deletes sets of measured rows; makes the invented ones.</summary>
internal static class BenchmarksCommand
{
    private static readonly Argument<string> Set = new("set") { Description = "The set's name as train or benchmarks list printed it." };
    private static readonly Option<string?> Out = new("--out") { Description = "File to write; stdout without it.", HelpName = "FILE" };
    private static readonly Option<long?> Seed = new("--seed") { Description = "Seed of the invented rows; that of the repository's file without it.", HelpName = "N" };

    private static readonly Option<bool> Own = new("--own") { Description = "The smaller rows of the calibration notebook instead." };

    private sealed record Row(string Set, string Name, bool Invented, long Rows, int Families);

    private sealed record Written(long Rows, string Csv);

    public static Command Create() => new("benchmarks", "List, export and delete sets of measured rows; make the invented ones.")
    {
        new Command("list", "The sets in the data folder.").Runs(ListAsync),
        new Command("export", "A set as comma-separated text.") { Set, Out }.Runs(ExportAsync),
        new Command("delete", "Delete a set; models learned from it stay.") { Set }.Runs(DeleteAsync),
        FromLogCommand.Create(),
        new Command("invent", "The invented rows of the demonstration as comma-separated text.") { Seed, Own, Out }.Runs(InventAsync),
    };

    private static async Task<int> ListAsync(Session session)
    {
        BenchmarkService.BenchmarkServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).Benchmarks;
        List<Row> rows = [];
        string token = string.Empty;
        do
        {
            ListBenchmarksResponse page = await client.ListBenchmarksAsync(new() { PageToken = token }, cancellationToken: session.Cancellation);
            rows.AddRange(page.Sets.Select(s => new Row(s.SetId, s.Header.Name, s.Header.Invented, s.Rows, s.Families)));
            token = page.NextPageToken;
        }
        while (token.Length > 0);
        return session.Answer("postpipeline.benchmarks/1", rows, console =>
        {
            Table table = new Table().AddColumn("set").AddColumn("name").AddColumn(new TableColumn("rows").RightAligned()).AddColumn(new TableColumn("families").RightAligned()).AddColumn("origin");
            foreach (Row row in rows)
            {
                table.AddRow(row.Set, Markup.Escape(row.Name), $"{row.Rows}", $"{row.Families}", row.Invented ? "invented" : "measured");
            }

            console.Write(table);
        });
    }

    private static async Task<int> ExportAsync(Session session)
    {
        BenchmarkService.BenchmarkServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).Benchmarks;
        StringBuilder text = new();
        long count = 0;
        using AsyncServerStreamingCall<ExportBenchmarksResponse> call = client.ExportBenchmarks(
            new() { SetId = session.Line.GetRequiredValue(Set) }, cancellationToken: session.Cancellation);
        await foreach (ExportBenchmarksResponse part in call.ResponseStream.ReadAllAsync(session.Cancellation).ConfigureAwait(false))
        {
            if (part.Header is { } header)
            {
                text.AppendJoin(',', header.Columns.Select(CsvRows.Cell)).Append('\n');
            }

            foreach (BenchmarkRow row in part.Rows?.Rows ?? [])
            {
                text.AppendJoin(',', row.Cells.Select(CsvRows.Cell)).Append('\n');
                count++;
            }
        }

        return Write(session, new(count, text.ToString()));
    }

    private static async Task<int> DeleteAsync(Session session)
    {
        BenchmarkService.BenchmarkServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).Benchmarks;
        string set = session.Line.GetRequiredValue(Set);
        await client.DeleteBenchmarksAsync(new() { SetId = set }, cancellationToken: session.Cancellation);
        return session.Answer("postpipeline.benchmarks.delete/1", new { Set = set }, console => console.WriteLine($"Deleted {set}."));
    }

    private static Task<int> InventAsync(Session session)
    {
        long? seed = session.Line.GetValue(Seed);
        (long own, long demonstration) = (seed ?? InventedOwnRows.DefaultSeed, seed ?? InventedBenchmarks.DefaultSeed);
        return Task.FromResult(Write(session, session.Line.GetValue(Own)
            ? new(InventedOwnRows.Rows(own).Length, InventedOwnRows.ToCsv(own))
            : new(InventedBenchmarks.Rows(demonstration).Length, InventedBenchmarks.ToCsv(demonstration))));
    }

    private static int Write(Session session, Written written)
    {
        if (session.Line.GetValue(Out) is not { } path)
        {
            return session.Answer("postpipeline.benchmarks.rows/1", written, console => console.Profile.Out.Writer.Write(written.Csv));
        }

        string full = Path.GetFullPath(path);
        OutputFolder.Open(Path.GetDirectoryName(full)!).Write(Path.GetFileName(full), written.Csv);
        return session.Answer("postpipeline.benchmarks.rows/1", new { written.Rows }, console => console.WriteLine($"{written.Rows} rows written."));
    }
}
