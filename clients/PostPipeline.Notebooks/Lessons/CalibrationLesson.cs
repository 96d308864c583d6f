using System.Globalization;
using PostPipeline.Client;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Notebooks.Charts;
using PostPipeline.Notebooks.Rendering;
using PostPipeline.Studies.Benchmarks;
using PostPipeline.Studies.Briefs;

namespace PostPipeline.Notebooks.Lessons;

/// <summary>From one's own measured rows to a sized farm: learn, say how far off it is on projects never seen, predict, size.</summary>
public sealed class CalibrationLesson
{
    private CalibrationLesson(GetModelResponse record) => Record = record;

    /// <summary>The model's record.</summary>
    public GetModelResponse Record { get; }

    /// <summary>How far off the model is on projects it has not seen.</summary>
    public Markdown Answer => new(
        $"{Record.Model.Rows} rows of {Record.Model.Families} projects{(Record.Model.Invented ? ", **invented**" : string.Empty)}: on projects held out whole the model is "
        + $"**{Say.Number(Record.Model.HeldOutMedianPercent)} %** off in the median; the median of like rows, which anybody could take, is {Say.Number(Record.Model.BaselineMedianPercent)} % off. "
        + $"Measured: {Record.ValidatedDomain}.");

    /// <summary>Learns from a file with the columns project, input_width, input_height, output_coding, frames, wall_seconds.</summary>
    /// <param name="file">The file; the invented rows where empty.</param>
    public static async Task<CalibrationLesson> LearnAsync(string file)
    {
        BenchmarkHeader header = InventedOwnRows.Header();
        IEnumerable<IReadOnlyList<string>> rows = InventedOwnRows.Rows().Select(r => (IReadOnlyList<string>)r);
        if (file.Length > 0)
        {
            (long Line, string[] Cells)[] read = Read(file);
            string[] columns = [.. read[0].Cells.Select(c => c.Trim())];
            string[] missing = [.. header.Columns.Except(columns)];
            (header.Name, header.Invented) = (Path.GetFileName(file), false);
            header.Columns.Clear();
            header.Columns.AddRange(missing.Length == 0 ? columns : throw new BriefException(file, $"lacks the columns {string.Join(", ", missing)}"));
            rows = read.Skip(1).Select(r => (IReadOnlyList<string>)r.Cells);
        }

        SuiteClients suite = await Suite.ClientsAsync().ConfigureAwait(false);
        ImportBenchmarksResponse set = await BenchmarkUpload.ImportAsync(suite.Benchmarks, header, rows, Output.Stop).ConfigureAwait(false);
        TrainModelResponse model = await suite.RenderTimes.TrainModelAsync(new() { SetId = set.SetId, Seed = 1 }, cancellationToken: Output.Stop).ResponseAsync.ConfigureAwait(false);
        return new(await suite.RenderTimes.GetModelAsync(new() { ModelId = model.ModelId }, cancellationToken: Output.Stop).ResponseAsync.ConfigureAwait(false));
    }

    /// <summary>Seconds a frame over the size of the picture, with the band that nine of ten new projects lie in.</summary>
    /// <param name="coding">What is written.</param>
    public async Task<Figure> BandsAsync(string coding)
    {
        (int Width, int Height)[] rasters = [(1920, 1080), (2048, 1152), (2880, 1620), (3840, 2160), (4096, 2160), (5120, 2700), (6144, 3240)];
        RenderTimePrediction[] answers = await PredictAsync(coding, rasters).ConfigureAwait(false);
        return Charts.Chart.Band(
            answers[0].IntervalRefused ? "Too few projects for a promise: the range that was measured" : "Nine of ten projects never seen lie in the band",
            new("Picture", "megapixels"),
            new("On one node", "s a frame"),
            [new(coding, [.. answers.Select((a, i) => new BandPoint(rasters[i].Width * (double)rasters[i].Height / 1e6, a.SecondsPerFrame, a.LowSecondsPerFrame, a.HighSecondsPerFrame))])]);
    }

    /// <summary>The prediction for one kind of work.</summary>
    /// <param name="coding">What is written.</param>
    /// <param name="width">Pixels across.</param>
    /// <param name="height">Pixels down.</param>
    public async Task<RenderTimePrediction> PredictAsync(string coding, int width, int height) => (await PredictAsync(coding, [(width, height)]).ConfigureAwait(false))[0];

    /// <summary>The farm that a night of that work needs; how unsure the prediction is goes into it, and no safety factor.</summary>
    /// <param name="coding">What is written.</param>
    /// <param name="frames">Frames of the night.</param>
    /// <param name="windowHours">The night, h.</param>
    /// <param name="confidence">The probability asked for.</param>
    public async Task<FarmLesson> SizeAsync(string coding, long frames, double windowHours, double confidence)
    {
        RenderTimePrediction one = await PredictAsync(coding, 3840, 2160).ConfigureAwait(false);
        return await new FarmLesson(new(frames, one.SecondsPerFrame, one.LogStandardDeviation, windowHours, confidence, 0.02, 1_200, 1_200, 7)).SizeAsync().ConfigureAwait(false);
    }

    private static (long Line, string[] Cells)[] Read(string file)
    {
        using StreamReader reader = new(file);
        (long Line, string[] Cells)[] rows = [.. CsvRows.Read(reader)];
        return rows.Length > 1 ? rows : throw new BriefException(file, "has no rows below its header");
    }

    private async Task<RenderTimePrediction[]> PredictAsync(string coding, IReadOnlyList<(int Width, int Height)> rasters)
    {
        SuiteClients suite = await Suite.ClientsAsync().ConfigureAwait(false);
        PredictRenderTimesRequest request = new() { ModelId = Record.Model.ModelId };
        foreach ((int width, int height) in rasters)
        {
            request.Queries.Add(new RenderQuery
            {
                Label = coding,
                Features =
                {
                    ["output_coding"] = coding,
                    ["input_width"] = width.ToString(CultureInfo.InvariantCulture),
                    ["input_height"] = height.ToString(CultureInfo.InvariantCulture),
                },
            });
        }

        PredictRenderTimesResponse answer = await suite.RenderTimes.PredictRenderTimesAsync(request, cancellationToken: Output.Stop).ResponseAsync.ConfigureAwait(false);
        return [.. answer.Results.Select(r => r.Prediction ?? throw new BriefException(coding, $"{r.Error.Field}: {r.Error.Description}"))];
    }
}
