using System.Diagnostics;
using System.Diagnostics.Metrics;
using Grpc.Core;

namespace PostPipeline.Hosting.Interceptors;

/// <summary>
/// Spans and measures of every call, whichever way it came. Costs next to nothing where nobody listens; names and
/// attributes follow the OpenTelemetry conventions for RPC.
/// </summary>
public sealed class TelemetryInterceptor : AroundInterceptor
{
    /// <summary>The name of the activity source and of the meter.</summary>
    public const string SourceName = "PostPipeline";

    private static readonly ActivitySource Source = new(SourceName);
    private static readonly Meter Meter = new(SourceName);
    private static readonly Histogram<double> Duration = Meter.CreateHistogram<double>("rpc.server.duration", "s", "Time from the arrival of a call to its status.");

    /// <inheritdoc/>
    protected override Task<T> Around<T>(ServerCallContext context, Func<ServerCallContext, Task<T>> next) =>
        Duration.Enabled || Source.HasListeners() ? Measured(context, next) : next(context);

    private static async Task<T> Measured<T>(ServerCallContext context, Func<ServerCallContext, Task<T>> next)
    {
        using Activity? span = Source.StartActivity(context.Method, ActivityKind.Internal);
        span?.SetTag("postpipeline.correlation_id", CallCorrelation.Of(context));
        long start = Stopwatch.GetTimestamp();
        StatusCode code = StatusCode.OK;
        try
        {
            return await next(context).ConfigureAwait(false);
        }
        catch (RpcException failure)
        {
            code = failure.StatusCode;
            span?.SetStatus(ActivityStatusCode.Error, failure.Status.Detail);
            throw;
        }
        finally
        {
            span?.SetTag("rpc.grpc.status_code", (int)code);
            Duration.Record(
                Stopwatch.GetElapsedTime(start).TotalSeconds,
                new KeyValuePair<string, object?>("rpc.method", context.Method),
                new KeyValuePair<string, object?>("rpc.grpc.status_code", (int)code));
        }
    }
}
