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
    private const int MostAdviceReplications = 10_000;
    private const int MostChanges = 20;

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
            progress => new SimulateFarmResponse { Progress = progress },
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
            progress => new SizeFarmResponse { Progress = progress },
            responseStream,
            context.CancellationToken);
        await responseStream.WriteAsync(new() { Result = FarmWriter.Write(answer, request.Seed, request.Replications) }, context.CancellationToken);
    }

    /// <inheritdoc/>
    public override async Task<AdviseSegmentsResponse> AdviseSegments(AdviseSegmentsRequest request, ServerCallContext context)
    {
        Violations violations = new();
        violations.InRange("replications", request.Replications, 1, MostAdviceReplications);
        violations.Count("segment_frames", request.SegmentFrames.Count, 0, SegmentAdvice.MostLengths);
        for (int i = 0; i < request.SegmentFrames.Count; i++)
        {
            violations.InRange(FieldPath.Of("segment_frames")[i], request.SegmentFrames[i], 1, FarmScenarioLimits.MostFrames);
        }

        violations.Count("jobs", request.Jobs.Count, 1, FarmReader.MostJobs);
        FarmScenario scenario = new FarmReader(violations).Read(request.Farm, request.Jobs);
        IReadOnlyList<PostPipeline.Farms.SegmentLength> compared = await Task.Run(
            () => SegmentAdvice.Compare(scenario, [.. request.SegmentFrames], request.Seed, request.Replications, context.CancellationToken),
            context.CancellationToken);
        violations.Require("segment_frames", compared.Count > 0, $"makes more than {FarmScenarioLimits.MostTasks} tasks at every length; allowed are longer segments");
        violations.ThrowIfAny();
        AdviseSegmentsResponse response = new() { BestSegmentFrames = SegmentAdvice.Best(compared).Frames };
        response.Lengths.AddRange(compared.Select(FarmWriter.Write));
        return response;
    }

    /// <inheritdoc/>
    public override async Task<ForecastTonightResponse> ForecastTonight(ForecastTonightRequest request, ServerCallContext context)
    {
        Violations violations = new();
        violations.InRange("replications", request.Replications, 1, FarmReplications.Most);
        violations.Count("due_seconds", request.DueSeconds.Count, 0, request.Jobs.Count);
        violations.Count("changes", request.Changes.Count, 0, MostChanges);
        FarmReader reader = new(violations);
        FarmScenario scenario = reader.ReadRunning(reader.Read(request.Farm, request.Jobs), request.Running);
        IReadOnlyList<PostPipeline.Farms.StuckTask> stuck = NightWatch.Stuck(scenario);
        scenario = NightWatch.Mark(scenario, stuck);
        FarmScenario[] nights = [scenario, .. request.Changes.Select((c, i) => NightChanges.Apply(scenario, request.Farm, c, reader, violations, FieldPath.Of("changes")[i]))];
        violations.ThrowIfAny();
        foreach (FarmScenario night in nights)
        {
            reader.Refuse(night);
        }

        return await Task.Run(
            () =>
            {
                FarmForecast[] forecasts = [.. nights.Select(n => FarmReplications.Run(n, request.Seed, request.Replications, null, null, context.CancellationToken))];
                ForecastTonightResponse response = new() { Seed = request.Seed, Replications = request.Replications };
                for (int i = 0; i < forecasts.Length; i++)
                {
                    response.Forecasts.Add(FarmWriter.Write(i == 0 ? string.Empty : request.Changes[i - 1].Label, request, forecasts[i], forecasts[0], FarmBounds.Of(nights[i])));
                }

                response.Stuck.AddRange(stuck.Select(s => FarmWriter.Write(s, scenario)));
                return response;
            },
            context.CancellationToken);
    }
}
