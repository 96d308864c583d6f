using System.Globalization;
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
    private const int RowsInAMessage = 1000;

    private static readonly string[] NoiseReductions = ["none", "spatial", "temporal"];

    public async Task<(IReadOnlyList<JobFacts> Jobs, ModelFacts Model)> PredictAsync(
        Brief brief, FrameSizes sizes, BenchmarkFile? benchmarks, CancellationToken cancellation)
    {
        ImportBenchmarksResponse set = await ImportAsync(benchmarks, cancellation).ConfigureAwait(false);
        TrainModelResponse model = await services.RenderTimes.TrainModelAsync(new() { SetId = set.SetId, Seed = 1 }, cancellationToken: cancellation).ConfigureAwait(false);

        List<Question> questions = Questions(brief, sizes);
        PredictRenderTimesRequest request = new() { ModelId = model.ModelId };
        foreach (Question question in questions)
        {
            for (int node = 0; node < brief.Farm.Nodes.Count; node++)
            {
                request.Queries.Add(Query(question, brief.Farm.Nodes[node], node));
            }
        }

        PredictRenderTimesResponse response = await services.RenderTimes.PredictRenderTimesAsync(request, cancellationToken: cancellation).ConfigureAwait(false);
        List<JobFacts> jobs = [];
        for (int q = 0; q < questions.Count; q++)
        {
            RenderTimePrediction[] answers = [.. Enumerable.Range(0, brief.Farm.Nodes.Count).Select(n => Answer(response.Results[(q * brief.Farm.Nodes.Count) + n], n))];
            Question question = questions[q];
            double reference = answers[0].SecondsPerFrame / brief.Farm.Nodes[0].Speed;
            jobs.Add(new(
                question.Kind,
                question.Mode,
                reference,
                [.. answers.Select((a, n) => reference / a.SecondsPerFrame * brief.Farm.Nodes[n].Speed)],
                answers.Max(a => a.LogStandardDeviation),
                question.ReadBytes,
                question.WriteBytes,
                answers.Any(a => a.OutsideMeasured),
                [.. answers.SelectMany(a => a.Notes).Distinct()]));
        }

        string source = benchmarks is null ? "the invented demonstration rows" : $"the rows of {benchmarks.Name}";
        return (jobs, new(
            $"a model learned from {set.Rows.ToString(CultureInfo.InvariantCulture)} rows of {set.Families.ToString(CultureInfo.InvariantCulture)} projects ({source})",
            model.ModelId,
            response.Invented,
            response.ValidatedDomain,
            model.HeldOutMedianPercent));
    }

    private async Task<ImportBenchmarksResponse> ImportAsync(BenchmarkFile? benchmarks, CancellationToken cancellation)
    {
        BenchmarkHeader header = InventedBenchmarks.Header();
        IReadOnlyList<IReadOnlyList<string>> rows;
        if (benchmarks is null)
        {
            rows = [.. InventedBenchmarks.Rows().Select(r => (IReadOnlyList<string>)r)];
        }
        else
        {
            rows = benchmarks.Rows;
            (header.Name, header.Invented) = (benchmarks.Name, benchmarks.Invented);
            header.Columns.Clear();
            header.Columns.AddRange(benchmarks.Columns);
        }

        using AsyncClientStreamingCall<ImportBenchmarksRequest, ImportBenchmarksResponse> call = services.Benchmarks.ImportBenchmarks(cancellationToken: cancellation);
        await call.RequestStream.WriteAsync(new() { Header = header }, cancellation).ConfigureAwait(false);
        foreach (IReadOnlyList<string>[] some in rows.Chunk(RowsInAMessage))
        {
            BenchmarkRows message = new();
            foreach (IReadOnlyList<string> cells in some)
            {
                BenchmarkRow row = new();
                row.Cells.AddRange(cells);
                message.Rows.Add(row);
            }

            await call.RequestStream.WriteAsync(new() { Rows = message }, cancellation).ConfigureAwait(false);
        }

        await call.RequestStream.CompleteAsync().ConfigureAwait(false);
        return await call.ResponseAsync.ConfigureAwait(false);
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

    private static RenderQuery Query(Question question, NodeClass node, int place)
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
        return query;
    }

    private sealed record Source(string Coding, int Width, int Height, double BitsPerPixel, long Bytes);

    private sealed record Question(
        string Kind, string Mode, Source From, string Debayer, string Noise, int Layers, string OutputCoding, int OutputWidth, int OutputHeight, long ReadBytes, long WriteBytes);
}
