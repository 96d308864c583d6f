using System.CommandLine;
using System.Globalization;
using PostPipeline.Cli.Commands.Footage;
using PostPipeline.Cli.Frame;
using PostPipeline.Client;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Studies.Benchmarks;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Printing;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.RenderTimes;

/// <summary><c>predict</c>: seconds per frame, or the total of many clips, with a band.</summary>
internal static class PredictCommand
{
    private const int MostRows = 10_000;

    // Enough to mend a file by.
    private const int MostProblems = 100;
    private const string LineLabel = "line ";

    private static readonly Option<string?> Model = Given.Needed("--model", "The model's name as train printed it.", "MODEL");
    private static readonly Option<string[]> With = new("--with") { Description = "One question as name=value for each feature.", AllowMultipleArgumentsPerToken = true, HelpName = "NAME=VALUE" };
    private static readonly Option<string?> Clips = Given.Text("--clips", "Or a file with a row for each question; columns are features.", "FILE");
    private static readonly Option<string?> Frames = Given.Text("--frames", "Column of --clips with frames: predict the total of all rows as well.", "COLUMN");
    private static readonly Option<string?> Own = Given.Text("--own", "A file of a few rows measured on one's own footage; they move the prediction.", "FILE");
    private static readonly Option<string?> OwnSeconds = Given.Text("--own-seconds", "Its column with seconds per frame; seconds_per_frame without it.", "COLUMN");
    private static readonly Option<double> Coverage = new("--coverage") { Description = "Part of families never seen that a band covers, 0.5 to 0.99.", DefaultValueFactory = _ => 0.9, HelpName = "PART" };

    private sealed record Result(IReadOnlyList<Row> Rows, Sum? Total, bool Invented, string ValidatedDomain, int OwnRows, double Coverage);

    private sealed record Row(string Label, double SecondsPerFrame, double Low, double High, bool BandRefused, bool OutsideMeasured, IReadOnlyList<string> Notes);

    private sealed record Sum(double Seconds, double Low, double High, bool BandRefused, bool OutsideMeasured, IReadOnlyList<string> Notes);

    public static Command Create() => new Command("predict", "Predict seconds per frame with a band that holds for projects never seen.")
    {
        Model, With, Clips, Frames, Own, OwnSeconds, Coverage,
    }.Runs(RunAsync);

    private static async Task<int> RunAsync(Session session)
    {
        RenderTimeService.RenderTimeServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).RenderTimes;
        GetModelResponse model = await client.GetModelAsync(new() { ModelId = session.Line.GetValue(Model) }, cancellationToken: session.Cancellation);
        string[] features = [.. model.CategoryColumns, .. model.NumberColumns];
        double coverage = session.Line.GetValue(Coverage);
        OwnRow[] own = OwnRows(session, features);
        PredictRenderTimesRequest request = new() { ModelId = model.Model.ModelId, Coverage = coverage };
        request.OwnRows.AddRange(own);
        PredictTotalRequest total = new() { ModelId = model.Model.ModelId, Coverage = coverage };
        total.OwnRows.AddRange(own);
        Ask(session, features, request, total);
        PredictRenderTimesResponse answer = await AskAsync(session, client, request).ConfigureAwait(false);
        Sum? sum = total.Clips.Count == 0 ? null : ToSum(await client.PredictTotalAsync(total, cancellationToken: session.Cancellation));
        Result result = new(
            [.. answer.Results.Select(r => ToRow(r.Label, r.Prediction))], sum, answer.Invented, answer.ValidatedDomain, own.Length, coverage);
        return session.Answer("postpipeline.predict/1", result, console => Print(console, result));
    }

    // Every question that cannot be answered is named, by its line where it stands in a file.
    private static async Task<PredictRenderTimesResponse> AskAsync(Session session, RenderTimeService.RenderTimeServiceClient client, PredictRenderTimesRequest request)
    {
        PredictRenderTimesResponse answer;
        try
        {
            answer = await client.PredictRenderTimesAsync(request, cancellationToken: session.Cancellation);
        }
        catch (ServiceCallException refused) when (session.Line.GetValue(Own) is { } own && refused.Violations.Any(v => v.Field.StartsWith("own_rows[", StringComparison.Ordinal)))
        {
            throw new BriefException([.. RowFile.Open(own).Problems("own_rows", refused.Violations)]);
        }

        InputProblem[] problems = [.. answer.Results.Where(r => r.Error is not null).Take(MostProblems).Select(r =>
        {
            string feature = RowFile.Feature(r.Error.Field);
            return session.Line.GetValue(Clips) is { } path
                ? new InputProblem(path, long.Parse(r.Label.AsSpan(LineLabel.Length), CultureInfo.InvariantCulture), 0, feature, string.Empty, r.Error.Description)
                : InputProblem.Of($"--with {feature}", string.Empty, r.Error.Description);
        })];
        return problems.Length == 0 ? answer : throw new InputException(problems);
    }

    private static void Ask(Session session, string[] features, PredictRenderTimesRequest request, PredictTotalRequest total)
    {
        string[] with = session.Line.GetValue(With) ?? [];
        string? path = session.Line.GetValue(Clips);
        if (with.Length == 0 == path is null)
        {
            throw Given.Refused("--with", string.Empty, "ask one question with --with name=value …, or many with --clips FILE");
        }

        if (path is null)
        {
            RenderQuery query = new() { Label = "question" };
            foreach (string pair in with)
            {
                int at = pair.IndexOf('=', StringComparison.Ordinal);
                if (at <= 0)
                {
                    throw Given.Refused("--with", pair, $"allowed is name=value; names are {string.Join(", ", features)}");
                }

                query.Features[pair[..at].Trim()] = pair[(at + 1)..].Trim();
            }

            request.Queries.Add(query);
            return;
        }

        RowFile file = RowFile.Open(path);
        int frames = session.Line.GetValue(Frames) is { } column ? file.Needed("--frames", column) : -1;
        foreach ((long line, string[] cells) in file.Rows())
        {
            if (request.Queries.Count == MostRows)
            {
                throw new InputException(new InputProblem(path, line, 0, string.Empty, string.Empty, $"there are more than {MostRows} rows; split the file"));
            }

            RenderQuery query = new() { Label = $"{LineLabel}{line}" };
            ClipWork clip = new();
            foreach ((string name, string value) in file.Features(cells, features))
            {
                query.Features.Add(name, value);
                clip.Features.Add(name, value);
            }

            request.Queries.Add(query);
            if (frames >= 0)
            {
                clip.Frames = long.TryParse(cells[frames], NumberStyles.None, CultureInfo.InvariantCulture, out long count)
                    ? count
                    : throw new InputException(new InputProblem(path, line, 0, file.Columns[frames], cells[frames], "allowed is a whole number of frames, 0 or more"));
                total.Clips.Add(clip);
            }
        }
    }

    private static OwnRow[] OwnRows(Session session, string[] features)
    {
        if (session.Line.GetValue(Own) is not { } path)
        {
            return [];
        }

        RowFile file = RowFile.Open(path);
        int seconds = file.Needed("--own-seconds", session.Line.GetValue(OwnSeconds) ?? "seconds_per_frame");
        return [.. file.Rows().Select(row =>
        {
            OwnRow own = new()
            {
                SecondsPerFrame = double.TryParse(row.Cells[seconds], NumberStyles.Float, CultureInfo.InvariantCulture, out double value)
                    ? value
                    : throw new InputException(new InputProblem(path, row.Line, 0, file.Columns[seconds], row.Cells[seconds], "allowed is a number above 0")),
            };
            foreach ((string name, string text) in file.Features(row.Cells, features))
            {
                own.Features.Add(name, text);
            }

            return own;
        })];
    }

    private static Row ToRow(string label, RenderTimePrediction p) => new(
        label, p.SecondsPerFrame, p.LowSecondsPerFrame, p.HighSecondsPerFrame, p.IntervalRefused, p.OutsideMeasured, [.. p.Notes]);

    private static Sum ToSum(PredictTotalResponse t) => new(t.TotalSeconds, t.LowSeconds, t.HighSeconds, t.IntervalRefused, t.OutsideMeasured, [.. t.Notes]);

    private static void Print(IAnsiConsole console, Result result)
    {
        string band = result.Rows.Any(r => r.BandRefused) ? "measured range" : $"{100 * result.Coverage:0.#} % band";
        Table table = new Table().AddColumn("question").AddColumn(new TableColumn("s per frame").RightAligned()).AddColumn(new TableColumn(band).RightAligned()).AddColumn("notes");
        foreach (Row row in result.Rows)
        {
            table.AddRow(
                Markup.Escape(row.Label), Numbers.Three(row.SecondsPerFrame), $"{Numbers.Three(row.Low)} to {Numbers.Three(row.High)}", Markup.Escape(string.Join("; ", row.Notes)));
        }

        console.Write(table);
        if (result.Total is { } total)
        {
            console.WriteLine(
                $"All of it on one node: {Numbers.Duration(total.Seconds)}, {(total.BandRefused ? "measured range" : band)} {Numbers.Duration(total.Low)} to {Numbers.Duration(total.High)}");
        }

        if (result.OwnRows > 0)
        {
            console.WriteLine($"{result.OwnRows} own rows were taken into account.");
        }

        console.WriteLine($"Measured: {result.ValidatedDomain}");
        if (result.Invented)
        {
            console.WriteLine("Rests on INVENTED rows: nothing was measured.");
        }
    }
}
