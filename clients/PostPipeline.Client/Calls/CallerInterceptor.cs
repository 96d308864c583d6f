using System.Globalization;
using Grpc.Core;
using Grpc.Core.Interceptors;
using PostPipeline.Contracts;

namespace PostPipeline.Client.Calls;

/// <summary>
/// What every call of a client carries: versions, a correlation id, a deadline; and how its errors come back: as
/// <see cref="ServiceCallException"/>, or as a cancellation where the caller's own token asked for it.
/// </summary>
internal sealed class CallerInterceptor(ClientOptions options) : Interceptor
{
    private readonly string session = Guid.NewGuid().ToString("N");
    private int calls;

    public override TResponse BlockingUnaryCall<TRequest, TResponse>(
        TRequest request, ClientInterceptorContext<TRequest, TResponse> context, BlockingUnaryCallContinuation<TRequest, TResponse> continuation)
    {
        ClientInterceptorContext<TRequest, TResponse> prepared = Prepare(context);
        CallErrors errors = ErrorsOf(prepared);
        for (int attempt = 1; ; attempt++)
        {
            try
            {
                return continuation(request, prepared);
            }
            catch (RpcException failure)
            {
                Exception shown = errors.Show(failure);
                if (Pause(shown, attempt, prepared.Options) is not { } pause)
                {
                    throw shown;
                }

                prepared.Options.CancellationToken.WaitHandle.WaitOne(pause);
            }
        }
    }

    public override AsyncUnaryCall<TResponse> AsyncUnaryCall<TRequest, TResponse>(
        TRequest request, ClientInterceptorContext<TRequest, TResponse> context, AsyncUnaryCallContinuation<TRequest, TResponse> continuation)
    {
        ClientInterceptorContext<TRequest, TResponse> prepared = Prepare(context);
        AsyncUnaryCall<TResponse> current = continuation(request, prepared);
        return new(AnswerAsync(), current.ResponseHeadersAsync, () => current.GetStatus(), () => current.GetTrailers(), () => current.Dispose());

        async Task<TResponse> AnswerAsync()
        {
            CallErrors errors = ErrorsOf(prepared);
            for (int attempt = 1; ; attempt++)
            {
                try
                {
                    return await current.ResponseAsync.ConfigureAwait(false);
                }
                catch (RpcException failure)
                {
                    Exception shown = errors.Show(failure);
                    if (Pause(shown, attempt, prepared.Options) is not { } pause)
                    {
                        throw shown;
                    }

                    await Task.Delay(pause, prepared.Options.CancellationToken).ConfigureAwait(false);
                    current.Dispose();
                    current = continuation(request, prepared);
                }
            }
        }
    }

    public override AsyncServerStreamingCall<TResponse> AsyncServerStreamingCall<TRequest, TResponse>(
        TRequest request, ClientInterceptorContext<TRequest, TResponse> context, AsyncServerStreamingCallContinuation<TRequest, TResponse> continuation)
    {
        ClientInterceptorContext<TRequest, TResponse> prepared = Prepare(context);
        AsyncServerStreamingCall<TResponse> call = continuation(request, prepared);
        return new(new CallStreamReader<TResponse>(call.ResponseStream, ErrorsOf(prepared)), call.ResponseHeadersAsync, call.GetStatus, call.GetTrailers, call.Dispose);
    }

    public override AsyncClientStreamingCall<TRequest, TResponse> AsyncClientStreamingCall<TRequest, TResponse>(
        ClientInterceptorContext<TRequest, TResponse> context, AsyncClientStreamingCallContinuation<TRequest, TResponse> continuation)
    {
        ClientInterceptorContext<TRequest, TResponse> prepared = Prepare(context);
        CallErrors errors = ErrorsOf(prepared);
        AsyncClientStreamingCall<TRequest, TResponse> call = continuation(prepared);
        return new(
            new CallStreamWriter<TRequest>(call.RequestStream, errors), errors.Shown(call.ResponseAsync), call.ResponseHeadersAsync, call.GetStatus, call.GetTrailers, call.Dispose);
    }

    public override AsyncDuplexStreamingCall<TRequest, TResponse> AsyncDuplexStreamingCall<TRequest, TResponse>(
        ClientInterceptorContext<TRequest, TResponse> context, AsyncDuplexStreamingCallContinuation<TRequest, TResponse> continuation)
    {
        ClientInterceptorContext<TRequest, TResponse> prepared = Prepare(context);
        CallErrors errors = ErrorsOf(prepared);
        AsyncDuplexStreamingCall<TRequest, TResponse> call = continuation(prepared);
        return new(
            new CallStreamWriter<TRequest>(call.RequestStream, errors),
            new CallStreamReader<TResponse>(call.ResponseStream, errors),
            call.ResponseHeadersAsync,
            call.GetStatus,
            call.GetTrailers,
            call.Dispose);
    }

    private static CallErrors ErrorsOf<TRequest, TResponse>(ClientInterceptorContext<TRequest, TResponse> context)
        where TRequest : class
        where TResponse : class =>
        new(context.Method.FullName, context.Options.CancellationToken);

    private ClientInterceptorContext<TRequest, TResponse> Prepare<TRequest, TResponse>(ClientInterceptorContext<TRequest, TResponse> context)
        where TRequest : class
        where TResponse : class
    {
        Metadata headers = [];
        foreach (Metadata.Entry entry in context.Options.Headers ?? [])
        {
            headers.Add(entry);
        }

        headers.Add(Wire.ContractHeader, Wire.ContractVersion);
        headers.Add(Wire.EngineHeader, Wire.EngineVersion);
        if (headers.Get(Wire.CorrelationHeader) is null)
        {
            headers.Add(Wire.CorrelationHeader, $"{session}-{Interlocked.Increment(ref calls).ToString(CultureInfo.InvariantCulture)}");
        }

        CallOptions prepared = context.Options.WithHeaders(headers);
        return new(context.Method, context.Host, prepared.Deadline is null ? prepared.WithDeadline(DateTime.UtcNow + options.Deadline) : prepared);
    }

    // Null where another attempt makes no sense: not that kind of error, no attempt or no time left.
    private TimeSpan? Pause(Exception shown, int attempt, CallOptions call)
    {
        if (attempt >= options.Attempts || shown is not ServiceCallException failure || (failure.StatusCode != StatusCode.Unavailable && failure.RetryAfter is null))
        {
            return null;
        }

        TimeSpan pause = failure.RetryAfter ?? options.FirstPause * (1 << Math.Min(attempt - 1, 10));
        return DateTime.UtcNow + pause < call.Deadline ? pause : null;
    }
}
