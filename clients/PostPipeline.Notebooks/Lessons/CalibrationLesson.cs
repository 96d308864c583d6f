using System.Globalization;
using PostPipeline.Client;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Notebooks.Charts;
using PostPipeline.Notebooks.Rendering;
using PostPipeline.Studies.Benchmarks;
using PostPipeline.Studies.Briefs;

namespace PostPipeline.Notebooks.Lessons;

/// <summary>
/// From one's own measured rows to a sized farm: learn, say how far off it is on projects never seen, predict, size. Any
/// table will do: its columns are mapped in the words that <c>train</c> and <c>predict</c> use.
/// </summary>
public sealed class CalibrationLesson
{
    // Points enough for a line; a table of many sizes is thinned to them.
    private const int MostPoints = 40;

    private readonly MeasuredTable table;

    private CalibrationLesson(MeasuredTable table, GetModelResponse record) => (this.table, Record) = (table, record);

    /// <summary>The model's record.</summary>
    public GetModelResponse Record { get; }

    /// <summary>How far off the model is on projects it has not seen.</summary>
    public Markdown Answer => new(
        $"{Record.Model.Rows} rows of {Record.Model.Families} projects{(Record.Model.Invented ? ", **invented**" : string.Empty)}: on projects held out whole the model is "
        + $"**{Say.Number(Record.Model.HeldOutMedianPercent)} %** off in the median; the median of like rows, which anybody could take, is {Say.Number(Record.Model.BaselineMedianPercent)} % off. "
        + $"Measured: {Record.ValidatedDomain}.");

    /// <summary>Learns from a file.</summary>
    /// <param name="file">Comma-separated rows below a header; the invented rows where empty.</param>
    /// <param name="target">Column with seconds per frame, or with seconds where <paramref name="frames"/> names a column.</param>
    /// <param name="frames">Column that the target is divided by; may be empty.</param>
    /// <param name="family">Column of the projects that are held out whole.</param>
    /// <param name="categories">Feature columns that are names, parted by commas.</param>
    /// <param name="numbers">Feature columns that are numbers, parted by commas.</param>
    /// <exception cref="BriefException">The file lacks a column, or a row cannot be used: file, line, column.</exception>
    public static async Task<CalibrationLesson> LearnAsync(string file, string target, string frames, string family, string categories, string numbers)
    {
        MeasuredTable table = MeasuredTable.Read(file, new()
        {
            Target = target,
            Frames = frames,
            Family = family,
            Categories = ColumnMapping.Names(categories),
            Numbers = ColumnMapping.Names(numbers),
        });
        SuiteClients suite = await Suite.ClientsAsync().ConfigureAwait(false);
        string set = await table.ImportAsync(suite.Benchmarks, Output.Stop).ConfigureAwait(false);
        TrainModelResponse model = await suite.RenderTimes.TrainModelAsync(new() { SetId = set, Seed = 1 }, cancellationToken: Output.Stop).ResponseAsync.ConfigureAwait(false);
        return new(table, await suite.RenderTimes.GetModelAsync(new() { ModelId = model.ModelId }, cancellationToken: Output.Stop).ResponseAsync.ConfigureAwait(false));
    }

    /// <summary>Seconds a frame as one feature moves, with the band that nine of ten new projects lie in.</summary>
    /// <param name="with">The question as <c>name=value</c> for each feature, parted by commas.</param>
    /// <param name="along">The feature that moves through its measured values, and others that move with it as measured, parted by commas; what drives the prediction most where empty.</param>
    /// <exception cref="BriefException">A name is no feature, or a value was never measured.</exception>
    public async Task<Figure> BandsAsync(string with, string along)
    {
        Dictionary<string, string> question = table.Question(with);
        string[] moved = [.. ColumnMapping.Names(along)];
        moved = moved.Length > 0 ? moved : [Driver];
        IReadOnlyList<IReadOnlyList<string>> places = table.Measured(moved, MostPoints);
        RenderTimePrediction[] answers = await PredictAsync([.. places.Select(place =>
        {
            Dictionary<string, string> there = new(question, StringComparer.Ordinal);
            for (int i = 0; i < moved.Length; i++)
            {
                there[moved[i]] = place[i];
            }

            return there;
        })]).ConfigureAwait(false);
        string title = answers.Any(a => a.IntervalRefused) ? "Too few projects for a promise: the range that was measured" : "Nine of ten projects never seen lie in the band";
        Axis seconds = new("On one node", "s a frame");
        string name = string.Join(", ", table.Mapping.Categories.Except(moved).Select(c => question.GetValueOrDefault(c, string.Empty)).Where(v => v.Length > 0).DefaultIfEmpty("as asked"));
        return table.Mapping.Numbers.Contains(moved[0])
            ? Chart.Band(title, Of(moved[0]), seconds, [new(name, [.. answers.Select((a, i) => new BandPoint(Number(places[i][0]), a.SecondsPerFrame, a.LowSecondsPerFrame, a.HighSecondsPerFrame))])])
            : Chart.Bars(title, seconds, [.. answers.Select((a, i) => new BarRow(places[i][0], name, a.SecondsPerFrame, a.LowSecondsPerFrame, a.HighSecondsPerFrame))]);
    }

    /// <summary>
    /// How the prediction moves with one feature, the others as they were measured (partial dependence); taken from the model's
    /// record, so it costs no call. A chart, or a sentence where the model has no curve for the feature.
    /// </summary>
    /// <param name="along">The feature; the first of several parted by commas; what drives the prediction most where empty.</param>
    /// <exception cref="BriefException">It is no feature.</exception>
    public object Dependence(string along)
    {
        string feature = ColumnMapping.Names(along) is [string first, ..] ? table.Known("along", first) : Driver;
        string title = $"What {feature} does, all else as it was measured";
        Axis seconds = new("Predicted, geometric mean", "s a frame");
        return Record.Dependence.FirstOrDefault(d => d.Feature == feature) is not { } curve
            ? new Markdown($"The model took {feature} as a setting and learned each of its values apart, so there is no curve to draw; `predict` answers for each value that was measured.")
            : table.Mapping.Numbers.Contains(feature)
                ? Chart.Band(title, Of(feature), seconds, [BandSeries.Line("partial dependence", curve.Values.Select((v, i) => (Number(v), curve.SecondsPerFrame[i])))])
                : Chart.Bars(title, seconds, [.. curve.Values.Select((v, i) => new BarRow(v, "partial dependence", curve.SecondsPerFrame[i]))]);
    }

    /// <summary>The prediction for one question.</summary>
    /// <param name="with">The question as <c>name=value</c> for each feature, parted by commas.</param>
    /// <exception cref="BriefException">A name is no feature, or a value was never measured.</exception>
    public async Task<RenderTimePrediction> PredictAsync(string with) => (await PredictAsync([table.Question(with)]).ConfigureAwait(false))[0];

    /// <summary>The farm that a night of that work needs; how unsure the prediction is goes into it, and no safety factor.</summary>
    /// <param name="with">The question as <c>name=value</c> for each feature, parted by commas.</param>
    /// <param name="night">The night; what one frame takes and how unsure that is are filled in.</param>
    public async Task<FarmLesson> SizeAsync(string with, FarmNight night)
    {
        RenderTimePrediction one = await PredictAsync(with).ConfigureAwait(false);
        return await new FarmLesson(night with { SecondsPerFrame = one.SecondsPerFrame, Uncertainty = one.LogStandardDeviation }).SizeAsync().ConfigureAwait(false);
    }

    private string Driver => Record.Importance.Select(i => i.Feature).FirstOrDefault(table.Mapping.Features.Contains) ?? table.Mapping.Features[0];

    private static Axis Of(string column) => new("Feature", column);

    private static double Number(string text) => double.Parse(text, NumberStyles.Float, CultureInfo.InvariantCulture);

    private async Task<RenderTimePrediction[]> PredictAsync(IReadOnlyList<Dictionary<string, string>> questions)
    {
        SuiteClients suite = await Suite.ClientsAsync().ConfigureAwait(false);
        PredictRenderTimesRequest request = new() { ModelId = Record.Model.ModelId };
        request.Queries.AddRange(questions.Select(q => new RenderQuery { Features = { q } }));
        PredictRenderTimesResponse answer = await suite.RenderTimes.PredictRenderTimesAsync(request, cancellationToken: Output.Stop).ResponseAsync.ConfigureAwait(false);
        return [.. answer.Results.Select(r => r.Prediction
            ?? throw new BriefException([new BriefProblem(table.Name, 0, 0, $"with {RowFile.Feature(r.Error.Field)}", string.Empty, r.Error.Description)]))];
    }
}
