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

    /// <inheritdoc/>
    public override async Task SimulateFarm(
        SimulateFarmRequest request, IServerStreamWriter<SimulateFarmResponse> responseStream, ServerCallContext context)
    {
        Violations violations = new();
        violations.InRange("replications", request.Replications, 1, FarmReplications.Most);
        FarmReader reader = new(violations);
        long? due = request.HasDueSeconds ? reader.Microseconds("due_seconds", request.DueSeconds) : null;
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
}
