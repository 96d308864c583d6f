using Grpc.Core;
using PostPipeline.Hosting.Failures;

namespace PostPipeline.Hosting.Interceptors;

/// <summary>Bounds how many calls run at once and how long each may take.</summary>
/// <param name="gate">Counts the calls of the host.</param>
/// <param name="limits">The bounds.</param>
public sealed class AdmissionInterceptor(AdmissionGate gate, HostLimits limits) : AroundInterceptor
{
    /// <inheritdoc/>
    protected override Task<T> Around<T>(ServerCallContext context, Func<ServerCallContext, Task<T>> next) =>
        IsOurs(context) ? Bounded(context, next) : next(context);

    private async Task<T> Bounded<T>(ServerCallContext context, Func<ServerCallContext, Task<T>> next)
    {
        await gate.EnterAsync(context.CancellationToken).ConfigureAwait(false);
        try
        {
            using CancellationTokenSource bound = CancellationTokenSource.CreateLinkedTokenSource(context.CancellationToken);
            bound.CancelAfter(limits.MaximumCallTime);
            try
            {
                return await next(BoundedCallContext.Around(context, bound.Token)).ConfigureAwait(false);
            }
            catch (OperationCanceledException) when (bound.IsCancellationRequested && !context.CancellationToken.IsCancellationRequested)
            {
                throw ServiceFailureException.CallTooLong(limits.MaximumCallTime);
            }
        }
        finally
        {
            gate.Leave();
        }
    }
}
