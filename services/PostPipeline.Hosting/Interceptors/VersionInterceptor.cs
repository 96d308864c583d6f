using Grpc.Core;
using PostPipeline.Contracts;
using PostPipeline.Hosting.Failures;

namespace PostPipeline.Hosting.Interceptors;

/// <summary>
/// Exchanges versions. A caller that names another contract would misread fields, and one that names another engine
/// would mix answers that were not computed alike; both are refused before any work. A caller that names no version
/// (a general-purpose gRPC tool) is answered.
/// </summary>
public sealed class VersionInterceptor : AroundInterceptor
{
    /// <inheritdoc/>
    protected override Task<T> Around<T>(ServerCallContext context, Func<ServerCallContext, Task<T>> next)
    {
        if (IsOurs(context))
        {
            context.ResponseTrailers.Add(Wire.ContractHeader, Wire.ContractVersion);
            context.ResponseTrailers.Add(Wire.EngineHeader, Wire.EngineVersion);
            Check(context, Wire.ContractHeader, "contract", Wire.ContractVersion);
            Check(context, Wire.EngineHeader, "engine", Wire.EngineVersion);
        }

        return next(context);
    }

    private static void Check(ServerCallContext context, string header, string what, string ours)
    {
        string? theirs = context.RequestHeaders.GetValue(header);
        if (theirs is not null && theirs != ours)
        {
            throw ServiceFailureException.VersionMismatch(
                $"the caller speaks {what} version '{theirs}', this service {what} version '{ours}'; use a client and services of the same release");
        }
    }
}
