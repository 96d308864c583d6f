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

    private static PlanOccupancyResponse Write(StoragePlan plan, bool explain)
    {
        PlanOccupancyResponse response = new() { PeakBytes = plan.All.PeakBytes, PeakSeconds = plan.All.PeakInstant };
        response.Tiers.AddRange(plan.Tiers.Select(t => StorageWriter.Write(t, explain)));
        return response;
    }
}
