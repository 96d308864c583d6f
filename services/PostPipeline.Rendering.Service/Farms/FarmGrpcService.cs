using Grpc.Core;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Farms;
using PostPipeline.Hosting.Validation;

namespace PostPipeline.Rendering.Service.Farms;

/// <summary>Simulates and sizes farms.</summary>
public sealed class FarmGrpcService : FarmService.FarmServiceBase
{
    /// <summary>The most task records that one answer carries.</summary>
    public const int MostRecords = 10_000;

    private const int DefaultMostNodes = 1_000;

    /// <inheritdoc/>
    public override async Task SimulateFarm(
        SimulateFarmRequest request, IServerStreamWriter<SimulateFarmResponse> responseStream, ServerCallContext context)
    {
        Violations violations = new();
        violations.InRange("replications", request.Replications, 1, FarmReplications.Most);
        FarmReader reader = new(violations);
        long? due = request.HasDueSeconds ? reader.Clock.Microseconds("due_seconds", request.DueSeconds) : null;
        FarmScenario scenario = reader.Read(request.Farm, request.Jobs);
        FarmResult result = await ProgressStream.Run(
            (report, token) =>
            {
                FarmForecast forecast = FarmReplications.Run(
                    scenario, request.Seed, request.Replications, done => report(done, request.Replications), null, token);
                FarmResult answer = FarmWriter.Write(forecast, scenario, FarmBounds.Of(scenario), FarmTasks.Count(scenario.Jobs));
                answer.Notes.AddRange(FarmNotes.Of(request.Farm, request.Jobs));
                if (due is long instant)
                {
                    answer.OnTime = FarmWriter.Write(forecast.DoneBy(instant));
                }

                if (request.ReturnRecords)
                {
                    FirstRecords records = new(MostRecords);
                    FarmSimulation.Run(scenario, request.Seed, 0, records, token);
                    answer.Records.AddRange(records.Rows.Select(FarmWriter.Write));
                }

                return answer;
            },
            (done, of) => new SimulateFarmResponse { Progress = new() { Done = done, Of = of } },
            responseStream,
            context.CancellationToken);
        await responseStream.WriteAsync(new() { Result = result }, context.CancellationToken);
    }

    /// <inheritdoc/>
    public override async Task SizeFarm(
        SizeFarmRequest request, IServerStreamWriter<SizeFarmResponse> responseStream, ServerCallContext context)
    {
        Violations violations = new();
        FarmReader reader = new(violations);
        violations.InRange("replications", request.Replications, 1, FarmReplications.Most);
        double probability = request.Probability == 0 ? 0.9 : request.Probability;
        violations.InRange("probability", probability, 1e-6, 1 - 1e-6);
        int most = request.MostNodes == 0 ? DefaultMostNodes : request.MostNodes;
        violations.InRange("most_nodes", most, 1, FarmScenarioLimits.MostNodes);
        long due = reader.Clock.Microseconds("due_seconds", request.DueSeconds);
        FarmScenario scenario = reader.Read(request.Farm, request.Jobs);
        int sized = request.NodeClass.Length == 0 && request.Farm.NodeClasses.Count == 1
            ? 0
            : reader.Nodes.Index(request.Farm, request.NodeClass, "node_class");
        violations.ThrowIfAny();
        FarmSizingResult answer = await ProgressStream.Run(
            (report, token) => FarmSizing.Smallest(scenario, sized, due, probability, request.Seed, request.Replications, most, report, token),
            (done, of) => new SizeFarmResponse { Progress = new() { Done = done, Of = of } },
            responseStream,
            context.CancellationToken);
        SizeFarmResult result = FarmWriter.Write(answer, request.Seed, request.Replications);
        result.Notes.AddRange(FarmNotes.Of(request.Farm, request.Jobs));
        await responseStream.WriteAsync(new() { Result = result }, context.CancellationToken);
    }

    /// <inheritdoc/>
    public override async Task<AdviseSegmentsResponse> AdviseSegments(AdviseSegmentsRequest request, ServerCallContext context)
    {
        SegmentQuestion question = SegmentQuestion.Read(request);
        return await Task.Run(() => question.Answer((_, _) => { }, context.CancellationToken), context.CancellationToken);
    }

    /// <inheritdoc/>
    public override async Task StreamSegmentAdvice(
        StreamSegmentAdviceRequest request, IServerStreamWriter<StreamSegmentAdviceResponse> responseStream, ServerCallContext context)
    {
        AdviseSegmentsResponse result = await ProgressStream.Run(
            SegmentQuestion.Read(Violations.Needed("question", request.Question)).Answer, (done, of) => new StreamSegmentAdviceResponse { Progress = new() { Done = done, Of = of } }, responseStream, context.CancellationToken);
        await responseStream.WriteAsync(new() { Result = result }, context.CancellationToken);
    }

    /// <inheritdoc/>
    public override async Task<ForecastTonightResponse> ForecastTonight(ForecastTonightRequest request, ServerCallContext context)
    {
        NightQuestion question = NightQuestion.Read(request);
        return await Task.Run(() => question.Answer((_, _) => { }, context.CancellationToken), context.CancellationToken);
    }

    /// <inheritdoc/>
    public override async Task StreamTonightForecast(
        StreamTonightForecastRequest request, IServerStreamWriter<StreamTonightForecastResponse> responseStream, ServerCallContext context)
    {
        ForecastTonightResponse result = await ProgressStream.Run(
            NightQuestion.Read(Violations.Needed("question", request.Question)).Answer, (done, of) => new StreamTonightForecastResponse { Progress = new() { Done = done, Of = of } }, responseStream, context.CancellationToken);
        await responseStream.WriteAsync(new() { Result = result }, context.CancellationToken);
    }
}
