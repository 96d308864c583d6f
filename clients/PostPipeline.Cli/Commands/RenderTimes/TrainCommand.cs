using System.CommandLine;
using System.Globalization;
using PostPipeline.Cli.Commands.Footage;
using PostPipeline.Cli.Frame;
using PostPipeline.Client;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Studies.Benchmarks;
using PostPipeline.Studies.Printing;
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
    private static readonly Option<string[]> NumberColumns = new("--numbers") { Description = "Feature columns that are numbers; an empty cell is a missing value.", AllowMultipleArgumentsPerToken = true, HelpName = "COLUMN" };
    private static readonly Option<string?> Against = Given.Text("--against", "Another model: say which of the two errs less on these rows, with both kept from the families they are asked about.", "MODEL");
    private static readonly Option<string?> On = Given.Text("--on", "With --against, another set whose rows both are asked about; the rows just learned from without it.", "SET");
    private static readonly Option<string[]> Dependence = new("--dependence")
    {
        Description = "Also show how the prediction moves with these features, all others as they were measured (partial dependence); with every feature where none is named.",
        AllowMultipleArgumentsPerToken = true,
        Arity = ArgumentArity.ZeroOrMore,
        HelpName = "COLUMN",
    };

    private static readonly Option<long> Seed = new("--seed") { Description = "Seed of folds and trees; the same rows and seed give the same model.", DefaultValueFactory = _ => 1, HelpName = "N" };

    private sealed record Result(
        string Set, string Model, string Kind, long Rows, int Families, double HeldOutMedianPercent, double HeldOutMeanPercent, double HeldOutBiasPercent,
        double BaselineMedianPercent, bool Invented, string ValidatedDomain, IReadOnlyList<Candidate> Tried, IReadOnlyList<Driver> Drivers, IReadOnlyList<Curve> Dependence, Versus? Against);

    private sealed record Candidate(string Kind, double MedianPercent, double MeanPercent);

    private sealed record Driver(string Feature, double Increase);

    private sealed record Curve(string Feature, IReadOnlyList<CurvePoint> Points);

    private sealed record CurvePoint(string Value, double SecondsPerFrame);

    private sealed record Versus(
        string Set, string Better, double DifferencePercent, double DifferenceLowPercent, double DifferenceHighPercent, long Rows, int Families, int FamiliesHeldOut,
        long RowsLeftOut, string LeftOutBecause, Contender New, Contender Other);

    private sealed record Contender(string Model, double MedianPercent, double MeanPercent, double BiasPercent, double Worst5Percent, double? BandCoverage);

    public static Command Create() => new Command("train", "Learn render times from measured rows and say how far off they are on families never seen.")
    {
        File, Demo, Invented, Target, Frames, Family, Categories, NumberColumns, Dependence, Seed, Against, On,
    }.Runs(RunAsync);

    private static async Task<int> RunAsync(Session session)
    {
        ImportBenchmarksResponse set = await ImportAsync(session).ConfigureAwait(false);
        SuiteClients clients = await session.ClientsAsync().ConfigureAwait(false);
        StreamTrainingRequest training = new() { Question = new() { SetId = set.SetId, Seed = session.Line.GetValue(Seed) } };
        TrainModelResponse model = await session.ProgressAsync("learning", progress => ProgressCall.LastAsync(
            clients.RenderTimes.StreamTraining(training, cancellationToken: session.Cancellation), p => Figure(p.Progress), p => p.Result, progress, session.Cancellation)).ConfigureAwait(false);
        Versus? versus = await CompareAsync(session, clients.RenderTimes, model.ModelId, set.SetId).ConfigureAwait(false);
        GetModelResponse record = await clients.RenderTimes.GetModelAsync(new() { ModelId = model.ModelId }, cancellationToken: session.Cancellation);
        Result result = new(
            set.SetId, model.ModelId, model.Kind, model.Rows, model.Families, model.HeldOutMedianPercent, model.HeldOutMeanPercent, model.HeldOutBiasPercent,
            model.BaselineMedianPercent, model.Invented, record.ValidatedDomain,
            [.. record.Candidates.Select(c => new Candidate(c.Kind, c.MedianPercent, c.MeanPercent))],
            [.. record.Importance.Select(i => new Driver(i.Feature, i.Increase))],
            Curves(session, record),
            versus);
        return session.Answer("postpipeline.train/1", result, console => Print(console, result));
    }

    private static IReadOnlyList<Curve> Curves(Session session, GetModelResponse record)
    {
        if (session.Line.GetResult(Dependence) is not { Implicit: false })
        {
            return [];
        }

        string[] asked = session.Line.GetValue(Dependence) ?? [];
        string[] features = [.. record.CategoryColumns, .. record.NumberColumns];
        foreach (string setting in (asked.Length == 0 ? features : asked).Where(f => record.Dependence.All(d => d.Feature != f)))
        {
            session.Note($"{setting} is a setting that the model learned value by value, so there is no curve for it");
        }

        return [.. record.Dependence.Where(d => asked.Length == 0 || asked.Contains(d.Feature))
            .Select(d => new Curve(d.Feature, [.. d.Values.Zip(d.SecondsPerFrame, (value, seconds) => new CurvePoint(value, seconds))]))];
    }

    // Asked before anything is learned, so that a misspelt name costs no training.
    private static void RefuseUnknownCurves(Session session, BenchmarkHeader header)
    {
        string[] features = [.. header.CategoryColumns, .. header.NumberColumns];
        if ((session.Line.GetValue(Dependence) ?? []).FirstOrDefault(d => !features.Contains(d)) is { } unknown)
        {
            throw Given.Refused("--dependence", unknown, $"is no feature here; allowed is one of {string.Join(", ", features)}");
        }
    }

    private static async Task<Versus?> CompareAsync(Session session, RenderTimeService.RenderTimeServiceClient client, string model, string set)
    {
        if (session.Line.GetValue(Against) is not { } other)
        {
            return session.Line.GetValue(On) is { } lonely ? throw Given.Refused("--on", lonely, "name the other model with --against as well") : null;
        }

        string on = session.Line.GetValue(On) ?? set;
        StreamComparisonRequest comparison = new() { Question = new() { FirstModelId = other, SecondModelId = model, SetId = on, Seed = session.Line.GetValue(Seed) } };
        CompareModelsResponse answer = await session.ProgressAsync("comparing", progress => ProgressCall.LastAsync(
            client.StreamComparison(comparison, cancellationToken: session.Cancellation), p => Figure(p.Progress), p => p.Result, progress, session.Cancellation)).ConfigureAwait(false);
        return new(
            on,
            answer.Better switch { BetterModel.First => "other", BetterModel.Second => "new", _ => "undecided" },
            answer.DifferencePercent, answer.DifferenceLowPercent, answer.DifferenceHighPercent, answer.Rows, answer.Families, answer.FamiliesHeldOut,
            answer.RowsLeftOut, answer.LeftOutBecause, Of(answer.Second), Of(answer.First));
    }

    private static (int Done, int Of)? Figure(LearningProgress? progress) => progress is null ? null : (progress.Done, progress.Of);

    private static Contender Of(ComparedModel m) =>
        new(m.ModelId, m.MedianPercent, m.MeanPercent, m.BiasPercent, m.Worst5Percent, m.HasBandCoverage ? m.BandCoverage : null);

    private static async Task<ImportBenchmarksResponse> ImportAsync(Session session)
    {
        string? path = session.Line.GetValue(File);
        if (session.Line.GetValue(Demo) == (path is not null))
        {
            throw Given.Refused("rows", path ?? string.Empty, "name a file of measured rows, or give --demo for the invented ones, not both");
        }

        if (path is null)
        {
            RefuseUnknownCurves(session, InventedBenchmarks.Header());
            return await BenchmarkUpload.ImportAsync(
                (await session.ClientsAsync().ConfigureAwait(false)).Benchmarks, InventedBenchmarks.Header(), InventedBenchmarks.Rows().Select(r => (IReadOnlyList<string>)r), session.Cancellation).ConfigureAwait(false);
        }

        RowFile file = RowFile.Open(path);
        ColumnMapping usual = new();
        ColumnMapping mapping = new ColumnMapping
        {
            Target = session.Line.GetValue(Target) ?? usual.Target,
            Frames = session.Line.GetValue(Frames) ?? usual.Frames,
            Family = session.Line.GetValue(Family) ?? usual.Family,
            Categories = session.Line.GetValue(Categories) ?? [],
            Numbers = session.Line.GetValue(NumberColumns) ?? [],
        }.WithUsualFeatures(file.Columns);
        BenchmarkHeader header = mapping.Header(path, file.Columns, "--");
        RefuseUnknownCurves(session, header);
        header.Invented = session.Line.GetValue(Invented) || HoldsInvented(session, file);
        if (mapping.Unused(file.Columns) is { Count: > 0 } unused)
        {
            session.Note($"{path}: not used as features: {string.Join(", ", unused)}; --categories and --numbers name what is");
        }

        return await BenchmarkUpload.ImportAsync((await session.ClientsAsync().ConfigureAwait(false)).Benchmarks, header, file, session.Cancellation).ConfigureAwait(false);
    }

    // Whoever forgets to say that rows are invented is told.
    private static bool HoldsInvented(Session session, RowFile file)
    {
        int found = InventedRows.CountIn(file);
        if (found > 0)
        {
            session.Note($"{file.Path}: {found} of its rows are invented rows of the demonstration; everything that rests on this set says so");
        }

        return found > 0;
    }

    private static void Print(IAnsiConsole console, Result result)
    {
        console.WriteLine($"Model {result.Model}");
        console.WriteLine($"  {result.Kind}, from {result.Rows} rows of {result.Families} families{(result.Invented ? " (INVENTED rows: nothing was measured)" : string.Empty)}");
        console.WriteLine(
            $"  on families never seen: median {Numbers.Three(result.HeldOutMedianPercent)} % off, mean {Numbers.Three(result.HeldOutMeanPercent)} %, bias {Numbers.Three(result.HeldOutBiasPercent)} %; "
            + $"trivial baseline: median {Numbers.Three(result.BaselineMedianPercent)} %");
        console.WriteLine($"  measured: {result.ValidatedDomain}");
        Table tried = new Table().AddColumn("tried").AddColumn(new TableColumn("median % off").RightAligned()).AddColumn(new TableColumn("mean % off").RightAligned());
        foreach (Candidate candidate in result.Tried)
        {
            tried.AddRow(Markup.Escape(candidate.Kind), Numbers.Three(candidate.MedianPercent), Numbers.Three(candidate.MeanPercent));
        }

        console.Write(tried);
        Table drivers = new Table().AddColumn("what drives it").AddColumn(new TableColumn("error grows by, when shuffled").RightAligned());
        foreach (Driver driver in result.Drivers.Take(12))
        {
            drivers.AddRow(Markup.Escape(driver.Feature), $"{Numbers.Three(100 * (Math.Exp(driver.Increase) - 1))} %");
        }

        console.Write(drivers);
        foreach (Curve curve in result.Dependence)
        {
            Table table = new Table().AddColumn(Markup.Escape(curve.Feature)).AddColumn(new TableColumn("s per frame, all else as measured").RightAligned());
            foreach (CurvePoint point in curve.Points)
            {
                table.AddRow(Markup.Escape(point.Value), Numbers.Three(point.SecondsPerFrame));
            }

            console.Write(table);
        }

        if (result.Against is { } versus)
        {
            Print(console, versus);
        }
    }

    private static void Print(IAnsiConsole console, Versus versus)
    {
        Table table = new Table().AddColumn($"on {versus.Rows} rows of {versus.Families} families").AddColumn(new TableColumn("median % off").RightAligned())
            .AddColumn(new TableColumn("mean % off").RightAligned()).AddColumn(new TableColumn("bias %").RightAligned()).AddColumn(new TableColumn("worst 5 % beyond").RightAligned())
            .AddColumn(new TableColumn("inside 90 % bands").RightAligned());
        foreach ((string name, Contender c) in new[] { ("new", versus.New), ("other", versus.Other) })
        {
            table.AddRow(
                $"{name} {c.Model[..12]}", Numbers.Three(c.MedianPercent), Numbers.Three(c.MeanPercent), Numbers.Three(c.BiasPercent), $"{Numbers.Three(c.Worst5Percent)} %",
                c.BandCoverage is { } covered ? $"{Numbers.Three(100 * covered)} %" : "no band");
        }

        console.Write(table);
        console.WriteLine(
            $"New less other: {Numbers.Three(versus.DifferencePercent)} points of mean error (95 % interval {Numbers.Three(versus.DifferenceLowPercent)} to {Numbers.Three(versus.DifferenceHighPercent)}): "
            + versus.Better switch { "new" => "the new model errs less.", "other" => "the other model errs less.", _ => "these rows do not tell them apart." });
        console.WriteLine($"Neither had seen a row that it was asked about: both were learned again without the {versus.FamiliesHeldOut} families that one of them knew.");
        if (versus.RowsLeftOut > 0)
        {
            console.WriteLine($"{versus.RowsLeftOut} rows were left out, the first because {versus.LeftOutBecause}");
        }
    }
}
