using Grpc.Core;
using PostPipeline.Hosting.Validation;
using PostPipeline.Timecodes.Rehearsals;
using PostPipeline.Timecodes.Service.Conforming;
using Wire = PostPipeline.Contracts.Timecodes.V1;

namespace PostPipeline.Timecodes.Service;

/// <summary>Matching of cuts to originals: maps streams in, calls the domain, maps answers out.</summary>
public sealed class ConformGrpcService : Wire.ConformService.ConformServiceBase
{
    /// <summary>Rows in one message at most.</summary>
    public const int RowsPerMessage = 1_000;

    /// <inheritdoc/>
    public override async Task<Wire.RehearsePlanResponse> RehearsePlan(
        IAsyncStreamReader<Wire.RehearsePlanRequest> requestStream, ServerCallContext context)
    {
        if (!await requestStream.MoveNext(context.CancellationToken) || requestStream.Current.Settings is not { } settings)
        {
            throw new InvalidRequestException([new("settings", "is not set; the settings come first")], 1);
        }

        RehearsalReader reader = new(settings);
        while (await requestStream.MoveNext(context.CancellationToken))
        {
            reader.Take(requestStream.Current);
        }

        RehearsalPlan plan = reader.Finish();
        return RehearsalMapping.ToResponse(Rehearsal.Run(plan, context.CancellationToken), plan);
    }
}
