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
    public override async Task ConformCut(
        IAsyncStreamReader<Wire.ConformCutRequest> requestStream, IServerStreamWriter<Wire.ConformCutResponse> responseStream, ServerCallContext context)
    {
        ConformCall call = new((await requestStream.MoveNext(context.CancellationToken) ? requestStream.Current.Settings : null) ?? throw SettingsFirst());
        while (await requestStream.MoveNext(context.CancellationToken))
        {
            call.Take(requestStream.Current);
        }

        await call.AnswerAsync(responseStream, context.CancellationToken);
    }

    /// <inheritdoc/>
    public override async Task<Wire.CheckMediaResponse> CheckMedia(IAsyncStreamReader<Wire.CheckMediaRequest> requestStream, ServerCallContext context)
    {
        MediaCall call = new((await requestStream.MoveNext(context.CancellationToken) ? requestStream.Current.Settings : null) ?? throw SettingsFirst());
        while (await requestStream.MoveNext(context.CancellationToken))
        {
            call.Take(requestStream.Current);
        }

        return call.Answer(context.CancellationToken);
    }

    /// <inheritdoc/>
    public override async Task<Wire.RehearsePlanResponse> RehearsePlan(
        IAsyncStreamReader<Wire.RehearsePlanRequest> requestStream, ServerCallContext context)
    {
        RehearsalReader reader = new((await requestStream.MoveNext(context.CancellationToken) ? requestStream.Current.Settings : null) ?? throw SettingsFirst());
        while (await requestStream.MoveNext(context.CancellationToken))
        {
            reader.Take(requestStream.Current);
        }

        RehearsalPlan plan = reader.Finish();
        return RehearsalMapping.ToResponse(Rehearsal.Run(plan, context.CancellationToken), plan);
    }

    private static InvalidRequestException SettingsFirst() => new([new("settings", "is not set; the settings come first")], 1);
}
