using System.Threading.Channels;
using Grpc.Core;

namespace PostPipeline.Embedded.Calls;

/// <summary>
/// One call, seen from both sides. Exactly one of three things decides its status: the handler ends, the caller gives
/// up, or the deadline passes; whatever happens later changes nothing. A handler that goes on after the caller has
/// gone sees its token cancelled and answers to nobody.
/// </summary>
internal sealed class EmbeddedCall<TRequest, TResponse> : IDisposable
    where TRequest : class
    where TResponse : class
{
    private readonly Method<TRequest, TResponse> method;
    private readonly BoundMethod<TRequest, TResponse>? target;
    private readonly CallOptions options;

    // Never disposed: it holds no timer and no wait handle, and either side may still look at its token.
    private readonly CancellationTokenSource serverCancellation = new();
    private readonly TaskCompletionSource<TResponse> response = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private readonly TaskCompletionSource<Metadata> headers = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private readonly EmbeddedCallContext context;
    private Channel<TRequest>? requests;
    private Channel<TResponse>? responses;
    private CancellationTokenRegistration callerToken;
    private Timer? deadlineTimer;
    private int decided;
    private Outcome? outcome;

    public EmbeddedCall(Method<TRequest, TResponse> method, BoundMethod<TRequest, TResponse>? target, CallOptions options)
    {
        (this.method, this.target, this.options) = (method, target, options);
        DateTime deadline = options.Deadline?.ToUniversalTime() ?? DateTime.MaxValue;
        context = new(method.FullName, deadline, CopyOf(options.Headers), sent => headers.TrySetResult(sent), serverCancellation.Token);
        RequestWriter = new RequestStreamWriter<TRequest, TResponse>(this);
        ResponseReader = new ResponseStreamReader<TRequest, TResponse>(this);
    }

    public Task<TResponse> Response => response.Task;

    public Task<Metadata> Headers => headers.Task;

    public IClientStreamWriter<TRequest> RequestWriter { get; }

    public IAsyncStreamReader<TResponse> ResponseReader { get; }

    public EmbeddedOptions Options => target!.Options;

    public Method<TRequest, TResponse> Method => method;

    public Channel<TRequest> Requests => requests!;

    public Channel<TResponse> Responses => responses!;

    /// <summary>The token that the handler sees.</summary>
    public CancellationToken ServerToken => serverCancellation.Token;

    /// <summary>How the call ended; null while it runs.</summary>
    public Outcome? Ended => Volatile.Read(ref outcome);

    public void StartUnary(TRequest request)
    {
        if (Begin())
        {
            RunWithRequest(request, async copy =>
            {
                TResponse answer = await target!.Unary!(copy, context).ConfigureAwait(false);
                Answer(answer);
            });
        }
    }

    public void StartServerStreaming(TRequest request)
    {
        responses = NewChannel<TResponse>();
        if (Begin())
        {
            RunWithRequest(request, async copy =>
            {
                await target!.ServerStreaming!(copy, new ResponseStreamWriter<TRequest, TResponse>(this), context).ConfigureAwait(false);
                Finish(context.Status);
            });
        }
    }

    public void StartClientStreaming()
    {
        requests = NewChannel<TRequest>();
        if (Begin())
        {
            Run(async () =>
            {
                TResponse answer = await target!.ClientStreaming!(new RequestStreamReader<TRequest, TResponse>(this), context).ConfigureAwait(false);
                Answer(answer);
            });
        }
    }

    public void StartDuplexStreaming()
    {
        requests = NewChannel<TRequest>();
        responses = NewChannel<TResponse>();
        if (Begin())
        {
            Run(async () =>
            {
                await target!.DuplexStreaming!(
                    new RequestStreamReader<TRequest, TResponse>(this), new ResponseStreamWriter<TRequest, TResponse>(this), context).ConfigureAwait(false);
                Finish(context.Status);
            });
        }
    }

    public Status GetStatus() => Ended?.Status ?? throw new InvalidOperationException("The call has not ended, so it has no status.");

    public Metadata GetTrailers() => Ended?.Trailers ?? throw new InvalidOperationException("The call has not ended, so it has no trailers.");

    /// <summary>The caller gives up the call, unless it has ended.</summary>
    public void Dispose() => End(new(StatusCode.Cancelled, "Call canceled by the client."), [], null, local: true);

    /// <summary>Response headers go out with the first message.</summary>
    public void SendHeaders() => context.SendHeaders();

    private static Metadata CopyOf(Metadata? metadata)
    {
        Metadata copy = [];
        foreach (Metadata.Entry entry in metadata ?? [])
        {
            copy.Add(entry);
        }

        return copy;
    }

    private Channel<T> NewChannel<T>() => Channel.CreateBounded<T>(new BoundedChannelOptions(target?.Options.StreamCapacity ?? 1) { SingleReader = true });

    // False where the call is over before it began.
    private bool Begin()
    {
        if (options.CancellationToken.IsCancellationRequested)
        {
            Dispose();
        }
        else if (context.Deadline <= DateTime.UtcNow)
        {
            PassDeadline();
        }
        else if (target is null)
        {
            End(new(StatusCode.Unimplemented, "Service is unimplemented."), [], null, local: false);
        }

        if (Ended is not null)
        {
            return false;
        }

        TimeSpan left = context.Deadline - DateTime.UtcNow;
        if (left.TotalMilliseconds < int.MaxValue)
        {
            deadlineTimer = new(static call => ((EmbeddedCall<TRequest, TResponse>)call!).PassDeadline(), this, left < TimeSpan.Zero ? TimeSpan.Zero : left, Timeout.InfiniteTimeSpan);
        }

        callerToken = options.CancellationToken.UnsafeRegister(static call => ((EmbeddedCall<TRequest, TResponse>)call!).Dispose(), this);
        if (Ended is not null)
        {
            Release();
            return false;
        }

        return true;
    }

    private void PassDeadline() => End(new(StatusCode.DeadlineExceeded, string.Empty), [], null, local: true);

    // The copy is made before the call returns to its caller, who may change the message then.
    private void RunWithRequest(TRequest request, Func<TRequest, Task> handler)
    {
        if (!Messages.Fits(request, Options.Settings.Limits.MaximumMessageBytes))
        {
            Fail(Messages.TooLargeToReceive);
            return;
        }

        TRequest copy = Messages.Copy(request, method.RequestMarshaller, Options.Copy);
        Run(() => handler(copy));
    }

    // On the pool, so that a handler that computes for long neither holds up its caller nor outlives the deadline.
    private void Run(Func<Task> handler) => _ = Task.Run(async () =>
    {
        try
        {
            await handler().ConfigureAwait(false);
        }
        catch (RpcException failure)
        {
            Fail(failure);
        }
        catch (Exception)
        {
            // The error interceptor turns everything into a status; what throws outside it is a fault of the house.
            Fail(new(new(StatusCode.Unknown, "Exception was thrown by handler.")));
        }
        finally
        {
            if (Ended is null)
            {
                Fail(new(new(StatusCode.Unknown, "The handler ended without a status.")));
            }
        }
    });

    private void Answer(TResponse? answer)
    {
        if (context.Status.StatusCode != StatusCode.OK)
        {
            Finish(context.Status);
        }
        else if (answer is null)
        {
            Fail(new(new(StatusCode.Cancelled, "No message returned from method.")));
        }
        else if (!Messages.Fits(answer, Options.Settings.Limits.MaximumMessageBytes))
        {
            Fail(Messages.TooLargeToSend);
        }
        else
        {
            End(Status.DefaultSuccess, CopyOf(context.ResponseTrailers), Messages.Copy(answer, method.ResponseMarshaller, Options.Copy), local: false);
        }
    }

    private void Finish(Status status) => End(status, CopyOf(context.ResponseTrailers), null, local: false);

    private void Fail(RpcException failure)
    {
        Metadata trailers = CopyOf(context.ResponseTrailers);
        foreach (Metadata.Entry entry in failure.Trailers)
        {
            trailers.Add(entry);
        }

        End(failure.Status, trailers, null, local: false);
    }

    private void End(Status status, Metadata trailers, TResponse? answer, bool local)
    {
        if (Interlocked.Exchange(ref decided, 1) != 0)
        {
            return;
        }

        Outcome ended = new(status, trailers, local);
        Volatile.Write(ref outcome, ended);
        Release();
        if (local)
        {
            _ = serverCancellation.CancelAsync();
            headers.TrySetException(ended.ToException());
            _ = headers.Task.Exception;
        }
        else
        {
            context.SendHeaders();
        }

        Exception? failure = status.StatusCode == StatusCode.OK ? null : ended.ToException();
        responses?.Writer.TryComplete(failure);
        requests?.Writer.TryComplete();
        if (answer is not null)
        {
            response.TrySetResult(answer);
        }
        else if (responses is null)
        {
            response.TrySetException(failure ?? new RpcException(new(StatusCode.Internal, "The handler answered nothing.")));
            _ = response.Task.Exception;
        }
    }

    private void Release()
    {
        deadlineTimer?.Dispose();
        callerToken.Unregister();
    }

    /// <summary>How a call ended.</summary>
    /// <param name="Status">Its status.</param>
    /// <param name="Trailers">Its trailers.</param>
    /// <param name="Local">Whether the caller's side ended it, so that messages on the way are dropped.</param>
    internal sealed record Outcome(Status Status, Metadata Trailers, bool Local)
    {
        public RpcException ToException() => new(Status, Trailers);
    }
}
