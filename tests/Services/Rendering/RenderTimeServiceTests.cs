using System.Diagnostics.CodeAnalysis;
using Grpc.Core;
using PostPipeline.Client;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Embedded;
using Xunit;

namespace PostPipeline.Services.Tests.Rendering;

/// <summary>Benchmark sets and models through the whole embedded suite, in a data folder of their own.</summary>
[SuppressMessage("Design", "CA1001", Justification = "xunit calls DisposeAsync of IAsyncLifetime.")]
public sealed class RenderTimeServiceTests : IAsyncLifetime
{
    private readonly string folder = Path.Combine(Path.GetTempPath(), $"postpipeline-test-{Guid.NewGuid():N}");
    private EmbeddedSuite suite = null!;

    public Task InitializeAsync()
    {
        suite = new(new() { Settings = new() { DataFolder = folder } });
        return Task.CompletedTask;
    }

    public async Task DisposeAsync()
    {
        await suite.DisposeAsync();
        Directory.Delete(folder, recursive: true);
    }

    [Fact]
    public async Task ImportTrainPredict_SmallTable_PredictsWithBand()
    {
        ImportBenchmarksResponse set = await Import(Header(), Rows());
        Assert.Equal(12, set.Families);
        TrainModelResponse model = await suite.Clients.RenderTimes.TrainModelAsync(new() { SetId = set.SetId, Seed = 1 });
        TrainModelResponse again = await suite.Clients.RenderTimes.TrainModelAsync(new() { SetId = set.SetId, Seed = 1 });
        Assert.Equal(model, again);
        Assert.True(model.HeldOutMedianPercent < model.BaselineMedianPercent);

        PredictRenderTimesRequest request = new() { ModelId = model.ModelId, Explain = true };
        request.Queries.Add(Query("good", "proxy", "8"));
        request.Queries.Add(Query("bad", "hologram", "8"));
        PredictRenderTimesResponse response = await suite.Clients.RenderTimes.PredictRenderTimesAsync(request);
        RenderTimePrediction prediction = response.Results[0].Prediction;

        // 0.01 s a megapixel is how the rows were made; a family's factor lies within a tenth of 1.
        Assert.InRange(prediction.SecondsPerFrame, 0.06, 0.1);
        Assert.InRange(0.08, prediction.LowSecondsPerFrame, prediction.HighSecondsPerFrame);
        Assert.False(prediction.IntervalRefused);
        Assert.NotEmpty(prediction.Derivation.Inputs);
        Assert.Equal("features[coding]", response.Results[1].Error.Field);
        Assert.Equal("bad", response.Results[1].Label);
    }

    [Fact]
    public async Task PredictTotal_OwnRows_MoveAndNarrowTheTotal()
    {
        ImportBenchmarksResponse set = await Import(Header(), Rows());
        TrainModelResponse model = await suite.Clients.RenderTimes.TrainModelAsync(new() { SetId = set.SetId, Seed = 1 });
        PredictTotalRequest request = new() { ModelId = model.ModelId };
        request.Clips.Add(new ClipWork { Features = { ["coding"] = "proxy", ["megapixels"] = "8" }, Frames = 1_000 });
        request.Clips.Add(new ClipWork { Features = { ["coding"] = "master", ["megapixels"] = "8" }, Frames = 500 });
        PredictTotalResponse unmeasured = await suite.Clients.RenderTimes.PredictTotalAsync(request);

        // 0.08 s × 1,000 + 0.4 s × 500 = 280 s; families differ by a tenth at most.
        Assert.InRange(unmeasured.TotalSeconds, 230, 330);
        Assert.InRange(280, unmeasured.LowSeconds, unmeasured.HighSeconds);

        // A family that is twice as slow as all others.
        request.OwnRows.Add(new OwnRow { Features = { ["coding"] = "proxy", ["megapixels"] = "8" }, SecondsPerFrame = 0.16 });
        request.OwnRows.Add(new OwnRow { Features = { ["coding"] = "master", ["megapixels"] = "4" }, SecondsPerFrame = 0.4 });
        PredictTotalResponse measured = await suite.Clients.RenderTimes.PredictTotalAsync(request);
        Assert.InRange(measured.TotalSeconds, 480, 640);
        Assert.True(measured.HighSeconds / measured.LowSeconds < unmeasured.HighSeconds / unmeasured.LowSeconds);
    }

    [Fact]
    public async Task GetModel_SaysWhatItRestsOnAndWhatDrivesIt()
    {
        ImportBenchmarksResponse set = await Import(Header(), Rows());
        TrainModelResponse model = await suite.Clients.RenderTimes.TrainModelAsync(new() { SetId = set.SetId, Seed = 1 });
        GetModelResponse record = await suite.Clients.RenderTimes.GetModelAsync(new() { ModelId = model.ModelId });
        Assert.Equal(set.SetId, record.SetId);
        Assert.Equal(["megapixels", "coding"], record.Importance.Select(i => i.Feature).OrderDescending());
        Assert.All(record.Importance, i => Assert.True(i.Increase > 0.1));
        PartialDependence size = record.Dependence.Single(d => d.Feature == "megapixels");
        Assert.Equal(size.SecondsPerFrame.Order(), size.SecondsPerFrame);
        Assert.Equal(model.ModelId, Assert.Single((await suite.Clients.RenderTimes.ListModelsAsync(new())).Models).ModelId);
    }

    [Fact]
    public async Task ImportListExportDelete_RoundTrip()
    {
        ImportBenchmarksResponse first = await Import(Header(), Rows());
        ImportBenchmarksResponse same = await Import(Header(), Rows());
        Assert.Equal(first.SetId, same.SetId);
        ListBenchmarksResponse list = await suite.Clients.Benchmarks.ListBenchmarksAsync(new());
        Assert.Equal(first.SetId, Assert.Single(list.Sets).SetId);

        List<BenchmarkRow> exported = [];
        using AsyncServerStreamingCall<ExportBenchmarksResponse> call = suite.Clients.Benchmarks.ExportBenchmarks(new() { SetId = first.SetId });
        await foreach (ExportBenchmarksResponse part in call.ResponseStream.ReadAllAsync())
        {
            exported.AddRange(part.Rows?.Rows ?? []);
        }

        Assert.Equal(Rows(), exported);
        await suite.Clients.Benchmarks.DeleteBenchmarksAsync(new() { SetId = first.SetId });
        Assert.Empty((await suite.Clients.Benchmarks.ListBenchmarksAsync(new())).Sets);
        ServiceCallException gone = await Assert.ThrowsAsync<ServiceCallException>(async () =>
            await suite.Clients.Benchmarks.DeleteBenchmarksAsync(new() { SetId = first.SetId }));
        Assert.Equal(StatusCode.NotFound, gone.StatusCode);
    }

    [Fact]
    public async Task Import_BadRows_NamesEveryOneAndKeepsNothing()
    {
        List<BenchmarkRow> rows = Rows();
        rows[3].Cells[2] = "eight";
        rows[5].Cells[3] = "-1";
        rows[7].Cells.RemoveAt(0);
        ServiceCallException refused = await Assert.ThrowsAsync<ServiceCallException>(() => Import(Header(), rows));
        Assert.Equal(StatusCode.InvalidArgument, refused.StatusCode);
        Assert.Equal(["rows[3].megapixels", "rows[5].seconds", "rows[7]"], refused.Violations.Select(v => v.Field));
        Assert.Empty((await suite.Clients.Benchmarks.ListBenchmarksAsync(new())).Sets);
        Assert.Empty(Directory.EnumerateFileSystemEntries(Path.Combine(folder, "sets")));
    }

    [Fact]
    public async Task Import_UnknownTargetColumn_IsRefusedByName()
    {
        BenchmarkHeader header = Header();
        header.TargetColumn = "hours";
        ServiceCallException refused = await Assert.ThrowsAsync<ServiceCallException>(() => Import(header, Rows()));
        Assert.Equal("header.target_column", Assert.Single(refused.Violations).Field);
    }

    [Fact]
    public async Task Train_NoiseOnly_IsRefusedBecauseTheBaselineIsNotBeaten()
    {
        List<BenchmarkRow> rows = Rows();
        for (int i = 0; i < rows.Count; i++)
        {
            rows[i].Cells[3] = $"{1 + (i * 7919 % 101)}";
        }

        ImportBenchmarksResponse set = await Import(Header(), rows);
        ServiceCallException refused = await Assert.ThrowsAsync<ServiceCallException>(async () =>
            await suite.Clients.RenderTimes.TrainModelAsync(new() { SetId = set.SetId, Seed = 1 }));
        Assert.Equal(StatusCode.FailedPrecondition, refused.StatusCode);
        Assert.Contains("no better than", refused.Message, StringComparison.Ordinal);
    }

    private static BenchmarkHeader Header()
    {
        BenchmarkHeader header = new() { Name = "small", TargetColumn = "seconds", FamilyColumn = "project" };
        header.Columns.AddRange(["project", "coding", "megapixels", "seconds"]);
        header.CategoryColumns.Add("coding");
        header.NumberColumns.Add("megapixels");
        return header;
    }

    private static List<BenchmarkRow> Rows()
    {
        List<BenchmarkRow> rows = [];
        for (int project = 0; project < 12; project++)
        {
            for (int size = 1; size <= 4; size++)
            {
                foreach ((string coding, double cost) in new[] { ("proxy", 0.01), ("master", 0.05) })
                {
                    double seconds = size * 4 * cost * (1 + (0.1 * Math.Sin(project * 2.4))) * (1 + (0.02 * Math.Cos((project * 5) + size)));
                    BenchmarkRow row = new();
                    row.Cells.AddRange([$"project {project}", coding, $"{size * 4}", $"{seconds:F5}"]);
                    rows.Add(row);
                }
            }
        }

        return rows;
    }

    private static RenderQuery Query(string label, string coding, string megapixels)
    {
        RenderQuery query = new() { Label = label };
        query.Features.Add("coding", coding);
        query.Features.Add("megapixels", megapixels);
        return query;
    }

    private async Task<ImportBenchmarksResponse> Import(BenchmarkHeader header, List<BenchmarkRow> rows)
    {
        using AsyncClientStreamingCall<ImportBenchmarksRequest, ImportBenchmarksResponse> call = suite.Clients.Benchmarks.ImportBenchmarks();
        await call.RequestStream.WriteAsync(new() { Header = header });
        foreach (BenchmarkRow[] chunk in rows.Chunk(50))
        {
            BenchmarkRows part = new();
            part.Rows.AddRange(chunk);
            await call.RequestStream.WriteAsync(new() { Rows = part });
        }

        await call.RequestStream.CompleteAsync();
        return await call.ResponseAsync;
    }
}
