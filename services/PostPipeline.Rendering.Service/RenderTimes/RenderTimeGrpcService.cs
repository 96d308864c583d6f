using System.Collections.Immutable;
using Google.Protobuf.Collections;
using Grpc.Core;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Hosting.Failures;
using PostPipeline.Hosting.Validation;
using PostPipeline.RenderTimes;

namespace PostPipeline.Rendering.Service.RenderTimes;

/// <summary>Trains models and predicts seconds per frame.</summary>
/// <param name="store">Where sets and models are kept.</param>
/// <param name="queue">One fit at a time.</param>
public sealed class RenderTimeGrpcService(IBenchmarkStore store, TrainingQueue queue) : RenderTimeService.RenderTimeServiceBase
{
    /// <summary>Questions in one request at most.</summary>
    public const int MaximumQueries = 10_000;

    private const double DefaultCoverage = 0.9;

    /// <inheritdoc/>
    public override Task<TrainModelResponse> TrainModel(TrainModelRequest request, ServerCallContext context) =>
        TrainAsync(request, null, context.CancellationToken);

    /// <inheritdoc/>
    public override async Task StreamTraining(StreamTrainingRequest request, IServerStreamWriter<StreamTrainingResponse> responseStream, ServerCallContext context)
    {
        TrainModelRequest question = Violations.Needed("question", request.Question);
        TrainModelResponse result = await ProgressStream.RunAsync(
            (report, token) => TrainAsync(question, report, token), (done, of) => new StreamTrainingResponse { Progress = new() { Done = done, Of = of } }, responseStream, context.CancellationToken);
        await responseStream.WriteAsync(new() { Result = result }, context.CancellationToken);
    }

    /// <inheritdoc/>
    public override Task<CompareModelsResponse> CompareModels(CompareModelsRequest request, ServerCallContext context) =>
        CompareAsync(request, null, context.CancellationToken);

    /// <inheritdoc/>
    public override async Task StreamComparison(StreamComparisonRequest request, IServerStreamWriter<StreamComparisonResponse> responseStream, ServerCallContext context)
    {
        CompareModelsRequest question = Violations.Needed("question", request.Question);
        CompareModelsResponse result = await ProgressStream.RunAsync(
            (report, token) => CompareAsync(question, report, token), (done, of) => new StreamComparisonResponse { Progress = new() { Done = done, Of = of } }, responseStream, context.CancellationToken);
        await responseStream.WriteAsync(new() { Result = result }, context.CancellationToken);
    }

    /// <inheritdoc/>
    public override Task<PredictRenderTimesResponse> PredictRenderTimes(PredictRenderTimesRequest request, ServerCallContext context)
    {
        Violations violations = new();
        violations.Count("queries", request.Queries.Count, 1, MaximumQueries);
        double coverage = Coverage(request.Coverage, violations);
        violations.ThrowIfAny();
        RenderTimeModel model = Model(request.ModelId);
        RenderTimeFamily family = Family(model, request.OwnRows);
        PredictRenderTimesResponse response = new()
        {
            ModelId = model.Record.Id,
            Invented = model.Record.Invented,
            ValidatedDomain = model.ValidatedDomain,
        };
        foreach (RenderQuery query in request.Queries)
        {
            context.CancellationToken.ThrowIfCancellationRequested();
            response.Results.Add(family.TryPredict(query.Features, coverage, out RenderTimeEstimate? estimate, out RowViolation violation)
                ? estimate!.ToResult(query.Label, request.Explain ? RenderTimeMapping.Derive(model, query, estimate!, coverage, family.OwnRows) : null)
                : violation.ToResult(query.Label));
        }

        return Task.FromResult(response);
    }

    /// <inheritdoc/>
    public override Task<PredictTotalResponse> PredictTotal(PredictTotalRequest request, ServerCallContext context)
    {
        Violations violations = new();
        violations.Count("clips", request.Clips.Count, 1, MaximumQueries);
        double coverage = Coverage(request.Coverage, violations);
        violations.ThrowIfAny();
        RenderTimeModel model = Model(request.ModelId);
        RenderTimeFamily family = Family(model, request.OwnRows);
        PostPipeline.RenderTimes.ClipWork[] clips = [.. request.Clips.Select(c => new PostPipeline.RenderTimes.ClipWork(c.Features, c.Frames))];
        return family.TryPredictTotal(clips, coverage, out RenderTimeEstimate? estimate, out RowViolation violation)
            ? Task.FromResult(estimate!.ToTotal(model))
            : throw new[] { violation }.ToException();
    }

    /// <inheritdoc/>
    public override Task<ListModelsResponse> ListModels(ListModelsRequest request, ServerCallContext context)
    {
        (int skip, int size) = Paging.Read(request.PageSize, request.PageToken);
        ImmutableArray<ModelRecord> all = store.ListModels();
        ListModelsResponse response = new() { NextPageToken = Paging.Next(skip, size, all.Length) };
        response.Models.AddRange(all.Skip(skip).Take(size).Select(m => m.ToResponse()));
        return Task.FromResult(response);
    }

    /// <inheritdoc/>
    public override Task<GetModelResponse> GetModel(GetModelRequest request, ServerCallContext context) =>
        Task.FromResult(Model(request.ModelId).ToDescription());

    private async Task<TrainModelResponse> TrainAsync(TrainModelRequest request, Action<int, int>? report, CancellationToken token)
    {
        BenchmarkSetInfo set = store.Find(request.SetId) ?? throw BenchmarkGrpcService.NotFound(request.SetId);

        // The same rows, seed and algorithm give the same model, so that one which is there need not be made again.
        string id = RenderTimeTrainer.ModelId(set.Id, request.Seed);
        if (store.FindModel(id) is RenderTimeModel present)
        {
            return present.Record.ToResponse();
        }

        // Whoever waited for another caller's training of the same finds it when the turn comes.
        RenderTimeModel model = await InTurn(
            cancellation =>
            {
                if (store.FindModel(id) is RenderTimeModel made)
                {
                    return made;
                }

                RenderTimeModel trained = RenderTimeTrainer.Train(Read(set, cancellation), request.Seed, report, cancellation);
                return BenchmarkGrpcService.WhenFree(() =>
                {
                    store.SaveModel(trained);
                    return trained;
                });
            },
            token);
        return model.Record.ToResponse();
    }

    private async Task<CompareModelsResponse> CompareAsync(CompareModelsRequest request, Action<int, int>? report, CancellationToken token)
    {
        BenchmarkSetInfo set = store.Find(request.SetId) ?? throw BenchmarkGrpcService.NotFound(request.SetId);
        RenderTimeModel first = Model(request.FirstModelId);
        RenderTimeModel second = Model(request.SecondModelId);
        (BenchmarkSetInfo firstSet, BenchmarkSetInfo secondSet) = (LearnedFrom(first), LearnedFrom(second));
        ModelComparison comparison = await InTurn(
            cancellation => ModelComparer.Compare(
                Read(set, cancellation), (first, Read(firstSet, cancellation)), (second, Read(secondSet, cancellation)), request.Seed, report, cancellation),
            token);
        return comparison.ToResponse(set.Invented);
    }

    private static double Coverage(double asked, Violations violations)
    {
        double coverage = asked == 0 ? DefaultCoverage : asked;
        violations.InRange("coverage", coverage, 0.5, 0.99);
        return coverage;
    }

    private static RenderTimeFamily Family(RenderTimeModel model, RepeatedField<Contracts.Rendering.V1.OwnRow> rows)
    {
        if (rows.Count == 0)
        {
            return model.NewFamily;
        }

        return model.TryMeasuredFamily(
            [.. rows.Select(r => new PostPipeline.RenderTimes.OwnRow(r.Features, r.SecondsPerFrame))], out RenderTimeFamily? family, out RowViolation violation)
            ? family!
            : throw new[] { violation }.ToException();
    }

    private async Task<T> InTurn<T>(Func<CancellationToken, T> work, CancellationToken cancellation)
    {
        try
        {
            return await queue.RunAsync(work, cancellation);
        }
        catch (TrainingRefusedException refusal)
        {
            throw ServiceFailureException.NotReady(refusal.Message);
        }
        catch (TrainingQueueFullException full)
        {
            throw ServiceFailureException.Overloaded(full.Message, TimeSpan.FromSeconds(30));
        }
    }

    private BenchmarkSetInfo LearnedFrom(RenderTimeModel model) => store.Find(model.Record.DataHash)
        ?? throw ServiceFailureException.NotReady($"the rows that model {model.Record.Id} was learned from were deleted, so it cannot be learned again without the families of the comparison; import them again");

    private RenderTimeModel Model(string id) => store.FindModel(id) ?? throw ServiceFailureException.NotFound("model", id);

    private BenchmarkTable Read(BenchmarkSetInfo set, CancellationToken cancellation)
    {
        BenchmarkTableBuilder builder = new(set.Schema, set.Invented);
        foreach (ImmutableArray<string> row in store.ReadRows(set.Id))
        {
            cancellation.ThrowIfCancellationRequested();
            builder.Add(row);
        }

        return builder.Build();
    }
}
