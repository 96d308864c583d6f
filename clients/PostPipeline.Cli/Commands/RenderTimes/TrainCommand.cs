using System.CommandLine;
using System.Globalization;
using PostPipeline.Cli.Commands.Footage;
using PostPipeline.Cli.Frame;
using PostPipeline.Client;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Studies.Benchmarks;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.RenderTimes;

/// <summary><c>train</c>: learns render times from measured rows.</summary>
internal static class TrainCommand
{
    private static readonly Argument<string?> File = new("rows") { Description = "Measured rows as comma-separated text with a header row.", Arity = ArgumentArity.ZeroOrOne };
    private static readonly Option<bool> Demo = new("--demo") { Description = "Learn from the invented rows of the demonstration instead of a file." };
    private static readonly Option<bool> Invented = new("--invented") { Description = "Say that the rows are invented; every answer that rests on them will say so." };
    private static readonly Option<string?> Target = Given.Text("--target", "Column with seconds per frame, or with seconds where --frames names a column; seconds_per_frame without it.", "COLUMN");
    private static readonly Option<string?> Frames = Given.Text("--frames", "Column that the target is divided by.", "COLUMN");
    private static readonly Option<string?> Family = Given.Text("--family", "Column of the families that are held out whole; project without it.", "COLUMN");
    private static readonly Option<string[]> Categories = new("--categories") { Description = "Feature columns that are names.", AllowMultipleArgumentsPerToken = true, HelpName = "COLUMN" };
    private static readonly Option<string[]> Numbers = new("--numbers") { Description = "Feature columns that are numbers; an empty cell is a missing value.", AllowMultipleArgumentsPerToken = true, HelpName = "COLUMN" };
    private static readonly Option<long> Seed = new("--seed") { Description = "Seed of folds and trees; the same rows and seed give the same model.", DefaultValueFactory = _ => 1, HelpName = "N" };

    private sealed record Result(
        string Set, string Model, string Kind, long Rows, int Families, double HeldOutMedianPercent, double HeldOutMeanPercent, double HeldOutBiasPercent,
        double BaselineMedianPercent, bool Invented, string ValidatedDomain, IReadOnlyList<Candidate> Tried, IReadOnlyList<Driver> Drivers);

    private sealed record Candidate(string Kind, double MedianPercent, double MeanPercent);

    private sealed record Driver(string Feature, double Increase);

    public static Command Create() => new Command("train", "Learn render times from measured rows and say how far off they are on families never seen.")
    {
        File, Demo, Invented, Target, Frames, Family, Categories, Numbers, Seed,
    }.Runs(RunAsync);

    private static async Task<int> RunAsync(Session session)
    {
        (BenchmarkHeader header, IEnumerable<IReadOnlyList<string>> rows) = Rows(session);
        SuiteClients clients = await session.ClientsAsync().ConfigureAwait(false);
        ImportBenchmarksResponse set = await ImportAsync(session, clients, header, rows).ConfigureAwait(false);
        TrainModelResponse model = await session.ProgressAsync(
            "learning", async _ => await clients.RenderTimes.TrainModelAsync(new() { SetId = set.SetId, Seed = session.Line.GetValue(Seed) }, cancellationToken: session.Cancellation)).ConfigureAwait(false);
        GetModelResponse record = await clients.RenderTimes.GetModelAsync(new() { ModelId = model.ModelId }, cancellationToken: session.Cancellation);
        Result result = new(
            set.SetId, model.ModelId, model.Kind, model.Rows, model.Families, model.HeldOutMedianPercent, model.HeldOutMeanPercent, model.HeldOutBiasPercent,
            model.BaselineMedianPercent, model.Invented, record.ValidatedDomain,
            [.. record.Candidates.Select(c => new Candidate(c.Kind, c.MedianPercent, c.MeanPercent))],
            [.. record.Importance.Select(i => new Driver(i.Feature, i.Increase))]);
        return session.Answer("postpipeline.train/1", result, console => Print(console, result));
    }

    // The service counts rows; people look for a line of their file.
    private static async Task<ImportBenchmarksResponse> ImportAsync(
        Session session, SuiteClients clients, BenchmarkHeader header, IEnumerable<IReadOnlyList<string>> rows)
    {
        try
        {
            return await BenchmarkUpload.ImportAsync(clients.Benchmarks, header, rows, session.Cancellation).ConfigureAwait(false);
        }
        catch (ServiceCallException refused) when (session.Line.GetValue(File) is { } path && refused.Violations.Any(v => v.Field.StartsWith("rows[", StringComparison.Ordinal)))
        {
            long[] lines = [.. RowFile.Open(path).Rows().Select(r => r.Line)];
            throw new InputException([.. refused.Violations.Select(v =>
            {
                int end = v.Field.IndexOf(']', StringComparison.Ordinal);
                bool row = v.Field.StartsWith("rows[", StringComparison.Ordinal) && int.TryParse(v.Field.AsSpan(5, end - 5), out int _);
                long line = row ? lines[int.Parse(v.Field.AsSpan(5, end - 5), CultureInfo.InvariantCulture)] : 0;
                return new InputProblem(path, line, 0, row ? v.Field[(end + 1)..].TrimStart('.') : v.Field, string.Empty, v.Problem);
            })]);
        }
    }

    private static (BenchmarkHeader Header, IEnumerable<IReadOnlyList<string>> Rows) Rows(Session session)
    {
        string? path = session.Line.GetValue(File);
        if (session.Line.GetValue(Demo) == (path is not null))
        {
            throw Given.Refused("rows", path ?? string.Empty, "name a file of measured rows, or give --demo for the invented ones, not both");
        }

        if (path is null)
        {
            return (InventedBenchmarks.Header(), InventedBenchmarks.Rows().Select(r => (IReadOnlyList<string>)r));
        }

        RowFile file = RowFile.Open(path);
        BenchmarkHeader header = new()
        {
            Name = Path.GetFileName(path),
            Invented = session.Line.GetValue(Invented),
            TargetColumn = session.Line.GetValue(Target) ?? "seconds_per_frame",
            FramesColumn = session.Line.GetValue(Frames) ?? string.Empty,
            FamilyColumn = session.Line.GetValue(Family) ?? "project",
        };
        file.Needed("--target", header.TargetColumn);
        file.Needed("--family", header.FamilyColumn);
        header.Columns.AddRange(file.Columns);
        string[] categories = session.Line.GetValue(Categories) ?? [];
        string[] numbers = session.Line.GetValue(Numbers) ?? [];
        if (categories.Length + numbers.Length == 0)
        {
            // The columns of our own benchmark files, as far as the file has them.
            categories = [.. InventedBenchmarks.Header().CategoryColumns.Where(c => file.Position(c) >= 0)];
            numbers = [.. InventedBenchmarks.Header().NumberColumns.Where(c => file.Position(c) >= 0)];
            if (categories.Length + numbers.Length == 0)
            {
                throw new InputException(new InputProblem(path, 1, 0, "--numbers", string.Empty, $"name the feature columns with --categories and --numbers; the file has {string.Join(", ", file.Columns)}"));
            }
        }

        foreach (string column in categories.Concat(numbers))
        {
            file.Needed("--numbers", column);
        }

        header.CategoryColumns.AddRange(categories);
        header.NumberColumns.AddRange(numbers);
        return (header, file.Rows().Select(r => (IReadOnlyList<string>)r.Cells));
    }

    private static void Print(IAnsiConsole console, Result result)
    {
        console.WriteLine($"Model {result.Model}");
        console.WriteLine($"  {result.Kind}, from {result.Rows} rows of {result.Families} families{(result.Invented ? " (INVENTED rows: nothing was measured)" : string.Empty)}");
        console.WriteLine(
            $"  on families never seen: median {Given.Three(result.HeldOutMedianPercent)} % off, mean {Given.Three(result.HeldOutMeanPercent)} %, bias {Given.Three(result.HeldOutBiasPercent)} %; "
            + $"trivial baseline: median {Given.Three(result.BaselineMedianPercent)} %");
        console.WriteLine($"  measured: {result.ValidatedDomain}");
        Table tried = new Table().AddColumn("tried").AddColumn(new TableColumn("median % off").RightAligned()).AddColumn(new TableColumn("mean % off").RightAligned());
        foreach (Candidate candidate in result.Tried)
        {
            tried.AddRow(Markup.Escape(candidate.Kind), Given.Three(candidate.MedianPercent), Given.Three(candidate.MeanPercent));
        }

        console.Write(tried);
        Table drivers = new Table().AddColumn("what drives it").AddColumn(new TableColumn("error grows by, when shuffled").RightAligned());
        foreach (Driver driver in result.Drivers.Take(12))
        {
            drivers.AddRow(Markup.Escape(driver.Feature), $"{Given.Three(100 * (Math.Exp(driver.Increase) - 1))} %");
        }

        console.Write(drivers);
    }
}
