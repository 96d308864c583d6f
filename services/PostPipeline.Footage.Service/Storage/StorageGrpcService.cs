using Grpc.Core;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Footage.Service.Shared;
using PostPipeline.Footage.Stores;
using PostPipeline.Hosting.Validation;
using Generation = PostPipeline.Footage.Stores.Generation;
using Tier = PostPipeline.Footage.Stores.Tier;

namespace PostPipeline.Footage.Service.Storage;

/// <summary>Generations of the pictures over time, tier by tier.</summary>
public sealed class StorageGrpcService : StorageService.StorageServiceBase
{
    /// <inheritdoc/>
    public override Task<PlanOccupancyResponse> PlanOccupancy(PlanOccupancyRequest request, ServerCallContext context)
    {
        Violations violations = new();
        violations.Count("generations", request.Generations.Count, 0, Batch.MaximumItems);
        violations.Count("tiers", request.Tiers.Count, 1, 100);
        Tier?[] tiers = [.. request.Tiers.Select((t, i) => StorageReader.Read(t, FieldPath.Of("tiers")[i], violations))];
        HashSet<string> names = [.. request.Tiers.Select(t => t.Label)];
        violations.Require("tiers", names.Count == request.Tiers.Count, "has a label twice; each tier stands once");
        Generation[] generations = [.. request.Generations.Take(Batch.MaximumItems).Select((g, i) => StorageReader.Read(g, FieldPath.Of("generations")[i], names, violations))];
        violations.ThrowIfAny();
        StoragePlan? plan = violations.Check("generations", () => StoragePlan.Of(generations, [.. tiers.OfType<Tier>()]));
        PlanOccupancyResponse? response = violations.Check("tiers", () => plan is null ? null : Write(plan, request.Explain));
        violations.ThrowIfAny();
        return Task.FromResult(response!);
    }

    /// <inheritdoc/>
    public override Task<PlanDisksResponse> PlanDisks(PlanDisksRequest request, ServerCallContext context)
    {
        PlanDisksResponse response = new();
        response.Results.AddRange(Batch.Answers(request.Items, (item, problems) => DiskAnswers.Answer(item, problems, request.Explain), static (i, v, e) =>
            v is null ? new DiskPlanResult { Label = i.Label, Error = e } : new DiskPlanResult { Label = i.Label, Plan = v }));
        return Task.FromResult(response);
    }

    /// <inheritdoc/>
    public override Task<CountStreamsResponse> CountStreams(CountStreamsRequest request, ServerCallContext context)
    {
        CountStreamsResponse response = new();
        response.Results.AddRange(Batch.Answers(request.Items, (item, problems) => StreamAnswers.Answer(item, problems, request.Explain), static (i, v, e) =>
            v is null ? new StreamCountResult { Label = i.Label, Error = e } : new StreamCountResult { Label = i.Label, Count = v }));
        return Task.FromResult(response);
    }

    /// <inheritdoc/>
    public override Task<CheckSeatsResponse> CheckSeats(CheckSeatsRequest request, ServerCallContext context)
    {
        CheckSeatsResponse response = new();
        response.Results.AddRange(Batch.Answers(request.Items, (item, problems) => SeatAnswers.Answer(item, problems, request.Explain), static (i, v, e) =>
            v is null ? new SeatCheckResult { Label = i.Label, Error = e } : new SeatCheckResult { Label = i.Label, Check = v }));
        return Task.FromResult(response);
    }

    /// <inheritdoc/>
    public override Task<SumDemandResponse> SumDemand(SumDemandRequest request, ServerCallContext context) =>
        Task.FromResult(DemandAnswers.Answer(request));

    /// <inheritdoc/>
    public override Task<EstimatePowerResponse> EstimatePower(EstimatePowerRequest request, ServerCallContext context)
    {
        EstimatePowerResponse response = new();
        response.Results.AddRange(Batch.Answers(request.Items, (item, problems) => PowerAnswers.Answer(item, problems, request.Explain), static (i, v, e) =>
            v is null ? new PowerEstimateResult { Label = i.Label, Error = e } : new PowerEstimateResult { Label = i.Label, Estimate = v }));
        return Task.FromResult(response);
    }

    /// <inheritdoc/>
    public override Task<ReviewPurgeResponse> ReviewPurge(ReviewPurgeRequest request, ServerCallContext context)
    {
        ReviewPurgeResponse response = new();
        response.Results.AddRange(EvidenceAnswers.Purge(request.Items, request.Explain));
        return Task.FromResult(response);
    }

    private static PlanOccupancyResponse Write(StoragePlan plan, bool explain)
    {
        PlanOccupancyResponse response = new() { PeakBytes = plan.All.PeakBytes, PeakSeconds = plan.All.PeakInstant };
        response.Tiers.AddRange(plan.Tiers.Select(t => StorageWriter.Write(t, explain)));
        return response;
    }
}
