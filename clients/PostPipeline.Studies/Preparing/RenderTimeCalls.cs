using System.Globalization;
using Google.Protobuf.Collections;
using Grpc.Core;
using PostPipeline.Client;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Studies.Benchmarks;
using PostPipeline.Studies.Briefs;
using NodeClass = PostPipeline.Studies.Briefs.NodeClass;

namespace PostPipeline.Studies.Preparing;

/// <summary>Learns render times from benchmark rows and asks for seconds per frame of each kind of work on each node class.</summary>
internal sealed class RenderTimeCalls(SuiteClients services)
{
    private static readonly string[] NoiseReductions = ["none", "spatial", "temporal"];

    public Task<Learned> LearnInventedAsync(CancellationToken cancellation) =>
        LearnAsync(InventedBenchmarks.Header(), [.. InventedBenchmarks.Rows().Select(r => (IReadOnlyList<string>)r)], cancellation);

    public async Task<(IReadOnlyList<JobFacts> Jobs, ModelFacts Model)> PredictAsync(
        Brief brief, FrameSizes sizes, BenchmarkFile? benchmarks, CancellationToken cancellation)
    {
        Learned invented = await LearnInventedAsync(cancellation).ConfigureAwait(false);
        Learned own = benchmarks is null ? invented : await LearnAsync(benchmarks, cancellation).ConfigureAwait(false);

        List<Question> questions = Questions(brief, sizes);
        RenderTimeResult[][] answers = await AskAsync(own, brief, questions, cancellation).ConfigureAwait(false);

        // What one's own rows cannot answer rests on the invented ones, for all node classes alike, and says so.
        RenderTimeResult[][] instead = own != invented && answers.Any(a => a.Any(r => r.Error is not null))
            ? await AskAsync(invented, brief, questions, cancellation).ConfigureAwait(false)
            : answers;
        List<JobFacts> jobs = [];
        for (int q = 0; q < questions.Count; q++)
        {
            RenderTimeResult? unanswered = answers[q].FirstOrDefault(r => r.Error is not null);
            RenderTimePrediction[] predictions = [.. (unanswered is null ? answers[q] : instead[q]).Select(Answer)];
            Question question = questions[q];
            double reference = predictions[0].SecondsPerFrame / brief.Farm.Nodes[0].Speed;
            string[] why = unanswered is null ? [] : [$"not answered by {benchmarks!.Name} ({unanswered.Error.Field}: {unanswered.Error.Description})"];
            jobs.Add(new(
                question.Kind,
                question.Mode,
                reference,
                [.. predictions.Select((a, n) => reference / a.SecondsPerFrame * brief.Farm.Nodes[n].Speed)],
                predictions.Max(a => a.LogStandardDeviation),
                question.ReadBytes,
                question.WriteBytes,
                predictions.Any(a => a.OutsideMeasured),
                [.. why, .. predictions.SelectMany(a => a.Notes).Distinct()])
            {
                Invented = own.Model.Invented || unanswered is not null,
            });
        }

        string source = benchmarks is null ? "the invented demonstration rows" : $"the rows of {benchmarks.Name}";
        return (jobs, new(
            $"a model learned from {own.Model.Rows.ToString(CultureInfo.InvariantCulture)} rows of {own.Model.Families.ToString(CultureInfo.InvariantCulture)} projects ({source})",
            own.Model.ModelId,
            own.Model.Invented,
            own.Record.ValidatedDomain,
            own.Model.HeldOutMedianPercent));
    }

    private async Task<Learned> LearnAsync(BenchmarkFile file, CancellationToken cancellation)
    {
        BenchmarkHeader header = InventedBenchmarks.Header();
        (header.Name, header.Invented) = (file.Name, file.Invented);
        Keep(header.CategoryColumns, file.Columns);
        Keep(header.NumberColumns, file.Columns);
        header.Columns.Clear();
        header.Columns.AddRange(file.Columns);
        try
        {
            return await LearnAsync(header, file.Rows, cancellation).ConfigureAwait(false);
        }
        catch (ServiceCallException refused) when (refused.StatusCode is StatusCode.FailedPrecondition or StatusCode.InvalidArgument)
        {
            throw new BriefException(file.Name, $"render times cannot be learned from these rows: {refused.Message}");
        }
    }

    private static void Keep(RepeatedField<string> features, IReadOnlyList<string> columns)
    {
        string[] there = [.. features.Where(columns.Contains)];
        features.Clear();
        features.AddRange(there);
    }

    private async Task<Learned> LearnAsync(BenchmarkHeader header, IReadOnlyList<IReadOnlyList<string>> rows, CancellationToken cancellation)
    {
        ImportBenchmarksResponse set = await BenchmarkUpload.ImportAsync(services.Benchmarks, header, rows, cancellation).ConfigureAwait(false);
        TrainModelResponse model = await services.RenderTimes.TrainModelAsync(new() { SetId = set.SetId, Seed = 1 }, cancellationToken: cancellation).ConfigureAwait(false);
        return new(model, await services.RenderTimes.GetModelAsync(new() { ModelId = model.ModelId }, cancellationToken: cancellation).ConfigureAwait(false));
    }

    // The answers by question and node class.
    private async Task<RenderTimeResult[][]> AskAsync(Learned learned, Brief brief, List<Question> questions, CancellationToken cancellation)
    {
        HashSet<string> features = [.. learned.Record.CategoryColumns, .. learned.Record.NumberColumns];
        PredictRenderTimesRequest request = new() { ModelId = learned.Model.ModelId };
        foreach (Question question in questions)
        {
            request.Queries.AddRange(brief.Farm.Nodes.Select((node, n) => Query(question, node, n, features)));
        }

        PredictRenderTimesResponse response = await services.RenderTimes.PredictRenderTimesAsync(request, cancellationToken: cancellation).ConfigureAwait(false);
        return [.. response.Results.Chunk(brief.Farm.Nodes.Count)];
    }

    private static RenderTimePrediction Answer(RenderTimeResult result, int node) => result.Prediction
        ?? throw new BriefException("the brief", $"farm.nodes[{node}]: {result.Label}: {result.Error.Field}: {result.Error.Description}");

    private static List<Question> Questions(Brief brief, FrameSizes sizes)
    {
        List<Question> questions = [];
        double proxyBytes = brief.Proxies.Rate.BytesPerSecond.ToDouble() / brief.Modes[0].ProjectRate.FramesPerSecond.ToDouble();
        string noise = NoiseReductions[brief.Farm.NoiseReduction];
        foreach (CaptureMode mode in brief.Modes)
        {
            Source original = Original(mode, sizes);
            questions.Add(new("transcode", mode.Name, original, mode.Sampling == "raw" ? "1" : "none", noise, 0, "mezzanine", brief.Mezzanine.Raster.Width, brief.Mezzanine.Raster.Height, original.Bytes, sizes.Mezzanine));
            questions.Add(new("proxy", mode.Name, original, mode.Sampling == "raw" ? "1/2" : "none", "none", 0, "proxy", 1920, 1080, original.Bytes, (long)Math.Ceiling(proxyBytes)));
        }

        Source first = Original(brief.Modes[0], sizes);
        Source mezzanine = new("intra", brief.Mezzanine.Raster.Width, brief.Mezzanine.Raster.Height, brief.Mezzanine.BitsPerPixel, sizes.Mezzanine);
        string finish = NoiseReductions[brief.Finish.NoiseReduction];
        (int width, int height) = (brief.Deliver.Raster.Width, brief.Deliver.Raster.Height);
        questions.Add(new("render-originals", string.Empty, first, brief.Modes[0].Sampling == "raw" ? "1" : "none", finish, 2, "master", width, height, first.Bytes, sizes.Master));
        questions.Add(new("render-mezzanine", string.Empty, mezzanine, "none", finish, 2, "master", width, height, mezzanine.Bytes, sizes.Master));
        return questions;
    }

    private static Source Original(CaptureMode mode, FrameSizes sizes) => new(
        mode.Sampling == "raw" ? "raw" : mode.LongGop == true ? "long-gop" : "intra",
        mode.Raster.Width,
        mode.Raster.Height,
        sizes.Average[mode.Name] * 8.0 / mode.Raster.Pixels,
        sizes.Average[mode.Name]);

    private static RenderQuery Query(Question question, NodeClass node, int place, HashSet<string> features)
    {
        RenderQuery query = new() { Label = $"{question.Kind} {question.Mode} on node class {place}".Replace("  ", " ", StringComparison.Ordinal) };
        void Feature(string name, IFormattable value) => query.Features[name] = value.ToString(null, CultureInfo.InvariantCulture);
        query.Features["gpu"] = node.Gpu;
        query.Features["input_coding"] = question.From.Coding;
        query.Features["debayer_scale"] = question.Debayer;
        query.Features["noise_reduction"] = question.Noise;
        query.Features["output_coding"] = question.OutputCoding;
        Feature("cores", node.Cores);
        Feature("clock_ghz", node.ClockGigahertz);
        Feature("input_width", question.From.Width);
        Feature("input_height", question.From.Height);
        Feature("input_bits_per_pixel", question.From.BitsPerPixel);
        Feature("layers", question.Layers);
        Feature("output_width", question.OutputWidth);
        Feature("output_height", question.OutputHeight);
        foreach (string unknown in query.Features.Keys.Where(name => !features.Contains(name)).ToArray())
        {
            query.Features.Remove(unknown);
        }

        return query;
    }

    internal sealed record Learned(TrainModelResponse Model, GetModelResponse Record);

    private sealed record Source(string Coding, int Width, int Height, double BitsPerPixel, long Bytes);

    private sealed record Question(
        string Kind, string Mode, Source From, string Debayer, string Noise, int Layers, string OutputCoding, int OutputWidth, int OutputHeight, long ReadBytes, long WriteBytes);
}
