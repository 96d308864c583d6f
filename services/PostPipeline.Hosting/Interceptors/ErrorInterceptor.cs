using Grpc.Core;
using Microsoft.Extensions.Logging;
using PostPipeline.Contracts;
using PostPipeline.Hosting.Failures;

namespace PostPipeline.Hosting.Interceptors;

/// <summary>
/// Turns whatever a service throws into the status that its caller sees, through <see cref="ExceptionStatus"/>, and
/// ties caller and log together by the correlation id. What is unexpected is logged here and nowhere else.
/// </summary>
public sealed partial class ErrorInterceptor(ILogger<ErrorInterceptor> logger) : AroundInterceptor
{
    /// <inheritdoc/>
    protected override async Task<T> Around<T>(ServerCallContext context, Func<ServerCallContext, Task<T>> next)
    {
        string correlationId = CallCorrelation.Of(context);
        context.ResponseTrailers.Add(Wire.CorrelationHeader, correlationId);
        try
        {
            return await next(context).ConfigureAwait(false);
        }
        catch (Exception exception)
        {
            bool cancelled = context.CancellationToken.IsCancellationRequested;
            RpcException status = ExceptionStatus.From(exception, cancelled, context.Deadline <= DateTime.UtcNow, correlationId);
            if (ExceptionStatus.IsFault(status))
            {
                LogFault(logger, context.Method, correlationId, exception);
            }
            else
            {
                LogRefusal(logger, context.Method, status.StatusCode, status.Status.Detail, correlationId);
            }

            throw status;
        }
    }

    [LoggerMessage(EventId = 1, Level = LogLevel.Error, Message = "{Method} failed unexpectedly (correlation id {CorrelationId})")]
    private static partial void LogFault(ILogger logger, string method, string correlationId, Exception exception);

    [LoggerMessage(EventId = 2, Level = LogLevel.Information, Message = "{Method} answered {Status}: {Detail} (correlation id {CorrelationId})")]
    private static partial void LogRefusal(ILogger logger, string method, StatusCode status, string detail, string correlationId);
}
